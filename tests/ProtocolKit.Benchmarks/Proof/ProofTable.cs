using System.Diagnostics;
using System.Globalization;
using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Proof;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Benchmarks.Proof;

/// <summary>
/// Everything the checker proves of generated protocols of some sizes, first cold and then warm; then reachability questions of one age
/// beside the same asked of CP-SAT, in one run. Figures are reported, never required.
/// </summary>
internal static class ProofTable
{
    private const int RunsToWarmUp = 6;

    /// <param name="sizes">Numbers of tasks.</param>
    public static void Print(TextWriter output, IReadOnlyList<int> sizes)
    {
        output.WriteLine("tasks  run   wall ms   CPU ms  peak MB  findings  proved  not proved");
        foreach (var size in sizes)
        {
            var protocol = Compiled(size);
            Print(output, size, "cold", protocol);
            for (var run = 0; run < RunsToWarmUp; run++)
            {
                Prover.Prove(protocol, new ProofOptions(Sets: false));
            }

            Print(output, size, "warm", protocol);
        }

        foreach (var size in sizes)
        {
            ReachabilityRatio.Print(output, size, Compiled(size));
        }
    }

    private static void Print(TextWriter output, int size, string run, Protocol protocol)
    {
        using var process = Process.GetCurrentProcess();
        var before = process.TotalProcessorTime;
        var watch = Stopwatch.StartNew();
        var report = Prover.Prove(protocol, new ProofOptions(Sets: false));
        var wall = watch.ElapsedMilliseconds;
        process.Refresh();
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{size, 5}  {run}  {wall, 8}  {(process.TotalProcessorTime - before).TotalMilliseconds, 7:0}  {process.PeakWorkingSet64 >> 20, 7}  {report.Findings.Count, 8}  {report.Proved.Count, 6}  {report.NotProved.Count, 10}"
            )
        );
        output.Flush();
    }

    public static Protocol Compiled(int tasks)
    {
        var source = new SourceText("proved.protocol", ProvedProtocol.Write(tasks));
        var compilation = Compilation.Of(source, new NoModules());
        return compilation.Protocol
            ?? throw new InvalidOperationException(
                string.Concat(compilation.Diagnostics.Take(3).Select(DiagnosticText.Render))
            );
    }

    private sealed class NoModules : IModuleSource
    {
        public SourceText? Find(string name) => null;

        public IEnumerable<string> Names => [];
    }
}
