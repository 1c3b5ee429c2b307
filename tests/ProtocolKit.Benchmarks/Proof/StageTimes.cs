using System.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Benchmarks.Proof;

/// <summary>Where the time of a proof goes, stage by stage.</summary>
internal static class StageTimes
{
    public static void Print(TextWriter output, Protocol protocol, int runs)
    {
        for (var run = 0; run < runs; run++)
        {
            var results = new ProofResults(new Questions(protocol, Reach.Limit));
            var stages = new (string, Action)[]
            {
                ("bands", () => BandProofs.Run(results, null)),
                ("actions", () => ActionProofs.Run(results)),
                ("claims", () => ClaimProofs.Run(results)),
                ("ranges", () => RangeProofs.Run(results)),
                ("monotony", () => MonotonyProofs.Run(results)),
                ("refusal", () => RefusalProofs.Run(results)),
                ("sets", () => OutcomeSets.Of(results)),
                ("counts", () => RecordCounts.Of(results)),
            };
            foreach (var (name, work) in stages)
            {
                var watch = Stopwatch.StartNew();
                var cpu = Process.GetCurrentProcess().TotalProcessorTime;
                work();
                output.Write(
                    $"cpu {(Process.GetCurrentProcess().TotalProcessorTime - cpu).TotalMilliseconds, 8:0} "
                );
                output.WriteLine($"{name, -10}{watch.Elapsed.TotalMilliseconds, 9:0.0} ms");
                output.Flush();
            }

            foreach (var text in results.NotProved)
            {
                output.WriteLine(text);
            }
        }
    }
}
