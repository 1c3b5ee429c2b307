using System.Globalization;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Language;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>Compiling a large protocol again after one character of it was typed, beside compiling it as a whole.</summary>
internal static class EditRatio
{
    /// <summary>For an edit in the words of a task; other edits are told and have no target.</summary>
    public const double Target = 0.1;

    /// <summary>What is typed, and before which characters of the text's middle.</summary>
    private static readonly (string What, string Before, string Typed)[] Edits =
    [
        ("in a task's words", ", like me.\"", "x"),
        ("in a comment under a task", "\n", " # x"),
        ("in a cut-off", " to 2.9", "0"),
        ("a quote, so that it is an error", ", like me.\"", "\""),
    ];

    /// <summary>Prints the table; gives whether the target is met.</summary>
    public static bool Print(TextWriter output, int runs)
    {
        var text = LargeProtocol.Write(CompileRatio.Tasks).Protocol;
        var whole = new SourceText("large.protocol", text);
        var isMet = true;
        foreach (var (what, before, typed) in Edits)
        {
            var edited = new SourceText(
                whole.Name,
                text.Insert(text.IndexOf(before, text.Length / 3, StringComparison.Ordinal), typed)
            );
            var cache = new CompilationCache(new NoModules());
            cache.Compile(whole);
            var next = whole;
            var (ours, all, ratio) = Median.InTurn(
                () => cache.Compile(next = next == whole ? edited : whole),
                () => CompileRatio.Compile(next),
                runs,
                warmUps: 5
            );
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"  one character {what, -32} {ours, 8:F1} ms, the whole {all, 8:F1} ms, ratio {ratio:F3}"
                )
            );
            isMet &= what != Edits[0].What || ratio <= Target;
        }

        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"  in a task's words at most {Target:F1}; medians of {runs} runs in turn, half of them taking it back"
            )
        );
        return isMet;
    }
}
