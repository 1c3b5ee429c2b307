using System.Globalization;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Language;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>Compiling a large protocol again after one character of it was typed, beside compiling it as a whole.</summary>
internal static class EditRatio
{
    /// <summary>For an edit that leaves names alone; one of a name is told and has no target.</summary>
    public const double Target = 0.1;

    /// <summary>What is typed, and before which characters, as they first stand after others.</summary>
    private static readonly (string What, string After, string Before, string Typed)[] Edits =
    [
        ("in a task's words", "task ", ", like me.\"", "x"),
        ("in a task's title", "task ", "\" posture(", "x"),
        ("in a comment under a task", "task ", "\n", " # x"),
        ("a new line before a task", "\n  task ", "\n", "\n"),
        ("a quote too many in a task", "  say ", ", like me.\"", "\""),
        ("in a cut-off", "cut-offs rate", " to 2.9", "0"),
        ("in a cut-off, bands overlap", "cut-offs rate", ".9  3 to", "7"),
        ("in the words under cut-offs", "cut-offs rate", "\"\n", "x"),
        ("in a measure's formula", "  = ", "\n", "0"),
        ("a step in a measure's formula", "  = ", "\n", " * 2"),
        ("in a measure's title", "measure ", "\" in ", "x"),
        ("in a score's claim", "  claim range", "\n", "0"),
        ("in an action's words", "\nactions", "\" within", "x"),
        ("in an action's condition", "\nactions", " or more", "0"),
        ("in the header", "purpose", "Invented", "x"),
        (NameOfTask, "task ", " \"", "x"),
    ];

    private const string NameOfTask = "in a task's name";

    /// <summary>Prints the table; gives whether the target is met.</summary>
    public static bool Print(TextWriter output, int runs)
    {
        var text = LargeProtocol.Write(CompileRatio.Tasks).Protocol;
        var whole = new SourceText("large.protocol", text);
        var isMet = true;
        foreach (var (what, after, before, typed) in Edits)
        {
            var middle = text.IndexOf(after, text.Length / 3, StringComparison.Ordinal);
            var start = middle < 0 ? text.IndexOf(after, StringComparison.Ordinal) : middle;
            var edited = new SourceText(
                whole.Name,
                text.Insert(text.IndexOf(before, start, StringComparison.Ordinal), typed)
            );
            var cache = new CompilationCache(new NoModules());
            var (ours, all, ratio) = Median.InTurn(
                () => cache.Compile(edited),
                () => CompileRatio.Compile(edited),
                runs,
                warmUps: 5,
                before: () => cache.Compile(whole)
            );
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"  one character {what, -32} {ours, 8:F1} ms, the whole {all, 8:F1} ms, ratio {ratio:F3}"
                )
            );
            isMet &= what == NameOfTask || ratio <= Target;
        }

        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"  at most {Target:F1}, names apart; medians of {runs} runs in turn"
            )
        );
        return isMet;
    }
}
