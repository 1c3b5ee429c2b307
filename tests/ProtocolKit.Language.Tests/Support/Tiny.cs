using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Language.Tests.Support;

/// <summary>
/// Small texts compiled under the prelude that grammar/reference.md states: a fragment stands under it, a text with
/// a header of its own stands alone.
/// </summary>
internal static class Tiny
{
    public static string Header(string ages = FragmentPrelude.Ages) => FragmentPrelude.Header(ages);

    /// <summary>The whole text: with the prelude before it, unless it has a header.</summary>
    public static string Whole(string text, string ages = FragmentPrelude.Ages) =>
        IsWhole(text) ? text : FragmentPrelude.Before(text, ages);

    /// <summary>A text with a header, or with nothing but comments.</summary>
    public static bool IsWhole(string text)
    {
        var lines = text.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0).ToList();
        return (lines.Count > 0 && lines.TrueForAll(l => l[0] == '#'))
            || lines.Exists(l =>
                l.StartsWith("protocol", StringComparison.Ordinal)
                || l.StartsWith("language", StringComparison.Ordinal)
            );
    }

    /// <summary>From a line with the word translation on, the text is that of a translation beside the protocol.</summary>
    public static Compilation Compile(string text, string ages = FragmentPrelude.Ages)
    {
        var at = ("\n" + text).IndexOf("\ntranslation ", StringComparison.Ordinal);
        return at < 0
            ? Raw(Whole(text, ages))
            : Raw(Whole(text[..at], ages)).Translated(new SourceText("tiny.de.translation", text[at..]));
    }

    /// <summary>With what was found out about every record, where there are no errors.</summary>
    public static Compilation Proved(Compilation compilation) =>
        compilation.Protocol is { } protocol
            ? compilation.WithProof(Proof.Prover.Prove(protocol))
            : compilation;

    /// <summary>The text as it stands.</summary>
    public static Compilation Raw(string text) =>
        Compilation.Of(new SourceText("tiny.protocol", text), new NoModules());

    /// <summary>The protocol of a text that has no errors; warnings and notes are allowed.</summary>
    public static Protocol Protocol(string text, string ages = FragmentPrelude.Ages)
    {
        var compilation = Compile(text, ages);
        Assert.True(compilation.Protocol is not null, Rendered(compilation));
        return compilation.Protocol!;
    }

    /// <summary>Codes of the errors, in order.</summary>
    public static IReadOnlyList<string> Errors(string text, string ages = FragmentPrelude.Ages) =>
        [.. Compile(text, ages).Diagnostics.Where(d => d.Severity == Severity.Error).Select(d => d.Code)];

    public static string Rendered(Compilation compilation) =>
        string.Join("\n", compilation.Diagnostics.Select(DiagnosticText.Render))
        + (compilation.Omitted > 0 ? $"\nAnd {compilation.Omitted} more.\n" : "");
}
