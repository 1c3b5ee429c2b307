using System.Diagnostics;
using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Fuzz;

/// <summary>What compiling one text showed.</summary>
/// <param name="Wrong">What went against the laws, in words; null where nothing did.</param>
/// <param name="Codes">The codes found, each once, in order: a sign of which way the text took through the compiler.</param>
/// <param name="Allocated">Bytes taken while compiling.</param>
public sealed record Verdict(string? Wrong, string Codes, TimeSpan Time, long Allocated)
{
    /// <summary>At most this many findings, however wrong the text.</summary>
    public const int MostFindings = 200;

    private const double SecondsPerMegabyte = 1;

    // A short text may ask for a quarter of a million answers before it is refused as too large.
    private const long MostBytes = 256L * 1024 * 1024;

    /// <summary>
    /// Compiles a text and holds the laws against it: no exception, a second for each megabyte at most (for a text of up to a
    /// megabyte, a second), bounded memory, places inside the text, a bounded number of findings, and a protocol exactly
    /// where there is no error.
    /// </summary>
    public static Verdict Of(string text, IModuleSource modules)
    {
        var first = Once(text, modules);

        // Much may be compiled or collected meanwhile: only a text that is slow each time is slow.
        var tries = 0;
        while (first.Wrong is null && TooSlow(first, text) && tries++ < 3)
        {
            first = Once(text, modules);
        }

        return first.Wrong is null && TooSlow(first, text)
            ? first with
            {
                Wrong = $"Took {first.Time.TotalSeconds:0.0} s for {text.Length} characters.",
            }
            : first;
    }

    private static bool TooSlow(Verdict verdict, string text) =>
        verdict.Time.TotalSeconds > SecondsPerMegabyte * Math.Max(1, text.Length / 1e6);

    private static Verdict Once(string text, IModuleSource modules)
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        var clock = Stopwatch.StartNew();
        var busy = Environment.CpuUsage.TotalTime;
        string? wrong;
        var codes = "";
        try
        {
            var compilation = Compilation.Of(new SourceText("text.protocol", text), modules);
            clock.Stop();
            codes = string.Join(
                ' ',
                compilation.Diagnostics.Select(d => d.Code).Distinct().Order(StringComparer.Ordinal)
            );
            wrong = Broken(compilation);
        }
#pragma warning disable CA1031 // The very law that is tested: nothing may come out of it, whatever it is.
        catch (Exception e)
        {
            clock.Stop();
            wrong = e.ToString();
        }
#pragma warning restore CA1031

        var taken = GC.GetAllocatedBytesForCurrentThread() - before;
        wrong ??=
            taken > Math.Max(MostBytes, text.Length * 4096L) ? $"Took {taken >> 20} MB of memory." : null;
        // What other programs do meanwhile is no fault of ours.
        busy = Environment.CpuUsage.TotalTime - busy;
        return new Verdict(wrong, codes, clock.Elapsed < busy ? clock.Elapsed : busy, taken);
    }

    private static string? Broken(Compilation compilation)
    {
        var errors = compilation.Diagnostics.Any(d => d.Severity == Severity.Error);
        if (errors == compilation.Protocol is not null)
        {
            return errors ? "A protocol in spite of errors." : "Neither a protocol nor an error.";
        }

        if (compilation.Diagnostics.Count > MostFindings)
        {
            return $"{compilation.Diagnostics.Count} findings.";
        }

        return compilation.Diagnostics.Select(Outside).FirstOrDefault(o => o is not null);
    }

    /// <summary>Lines are counted from 1, as are columns; a place may lie just after its line's end.</summary>
    private static string? Outside(Diagnostic diagnostic)
    {
        var lines = diagnostic.Source.Text.Split('\n');
        var place = diagnostic.Place;
        var inside =
            place.Line >= 1
            && place.Line <= lines.Length
            && place.Column >= 1
            && place.Length >= 0
            && place.Column - 1 + place.Length <= lines[place.Line - 1].Length + 1;
        return inside ? null : $"{diagnostic.Code} lies outside the text: {place}.";
    }
}
