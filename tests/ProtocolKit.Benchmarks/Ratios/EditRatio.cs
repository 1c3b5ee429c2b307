using System.Globalization;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Language;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>Compiling a large protocol again after one character of it was typed, beside compiling it as a whole.</summary>
internal static class EditRatio
{
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
        ("in a rated task's name", " short form, each side right, left\n  task ", " \"", "x"),
        ("in a timed task's name, missed", "hand timing within 0.3 s\n  task ", " \"", "x"),
        ("in a section's name", "\nsection ", " \"", "x"),
        ("in a section's title", "\nsection ", "\"\n", "x"),
        ("in a cut-off heading", "cut-offs rate", "\n", "x"),
        ("in a measure's name", "\n  measure ", " \"", "x"),
        ("in a score's name", "\nscore ", " \"", "x"),
    ];

    /// <summary>Those that compile the whole text, told without a target.</summary>
    private static readonly (string What, string After, string Before, string Typed)[] OfWholes =
    [
        ("in a band's name", "\nband ", " \"", "x"),
        ("in a material's name", "\nmaterial ", " \"", "x"),
        ("in an observation's name", "\nobservation ", " \"", "x"),
        ("in a scale's name", "\nscale ", ",", "x"),
        ("in a family's name", "\nfamily ", "(", "x"),
        ("a mark that makes a new block", "\n# material", "material", "\n"),
    ];

    /// <summary>Prints the table; gives whether the target is met.</summary>
    public static bool Print(TextWriter output, int runs)
    {
        var isMet = true;
        foreach (var edit in Edits)
        {
            isMet &= Print(output, edit, runs) <= Target;
        }

        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"  at most {Target:F1}, those below apart; medians of {runs} runs in turn"
            )
        );
        foreach (var edit in OfWholes)
        {
            Print(output, edit, runs);
        }

        return isMet;
    }

    private static double Print(
        TextWriter output,
        (string What, string After, string Before, string Typed) edit,
        int runs
    )
    {
        var (what, after, before, typed) = edit;
        var text = LargeProtocol.Write(CompileRatio.Tasks).Protocol;
        text = text.Replace(
            "\nscale ",
            "\n# material lamp \"A lamp\", \"1 piece\"\nscale ",
            StringComparison.Ordinal
        );
        var whole = new SourceText("large.protocol", text);
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
        return ratio;
    }
}
