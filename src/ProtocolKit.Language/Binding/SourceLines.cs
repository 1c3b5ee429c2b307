using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Binding;

/// <summary>The lines of a file, nested; nothing, after reporting, for what can't be one of ours.</summary>
internal static class SourceLines
{
    public const int LongestFile = 5_000_000;

    public static IReadOnlyList<Line>? Of(SourceText source, DiagnosticBag diagnostics)
    {
        if (source.Text.Length > LongestFile)
        {
            diagnostics.Report(source, new Place(1, 1, 0), TextMessages.FileTooLarge(LongestFile));
            return null;
        }

        if (source.Text.AsSpan().ContainsAny('\0', '\uFFFD'))
        {
            diagnostics.Report(source, new Place(1, 1, 0), TextMessages.NotText());
            return null;
        }

        if (LanguageVersion.IsLater(source, diagnostics))
        {
            return null;
        }

        var lines = LayoutPass.Nest(source, new Lexer(source, diagnostics).Lines(), diagnostics);
        if (lines.Count == 0)
        {
            diagnostics.Report(source, new Place(1, 1, 0), TextMessages.Empty());
        }

        return lines;
    }
}
