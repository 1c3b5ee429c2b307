using System.Text;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Workspace;

namespace ProtocolKit.Cli.Reporting;

/// <summary>
/// Findings as GitHub's workflow commands, a line each, which a build shows beside the changed lines. Escaping as in GitHub's
/// own toolkit (actions/toolkit, packages/core/src/command.ts).
/// </summary>
internal static class DiagnosticAnnotations
{
    public static string Render(IEnumerable<ProtocolFile> files)
    {
        var text = new StringBuilder();
        foreach (var file in files)
        {
            foreach (var diagnostic in file.Compilation.Diagnostics)
            {
                Write(text, file, diagnostic);
            }

            if (file.Compilation.Omitted > 0)
            {
                text.Append("::warning file=")
                    .Append(Property(file.PathOf(file.Source)))
                    .Append("::")
                    .Append(file.Compilation.Omitted)
                    .Append(" more findings are not listed.\n");
            }
        }

        return text.ToString().TrimEnd('\n');
    }

    private static void Write(StringBuilder text, ProtocolFile file, Diagnostic diagnostic)
    {
        var place = diagnostic.Place;
        text.Append("::")
            .Append(
                diagnostic.Severity == Severity.Note ? "notice" : DiagnosticText.Word(diagnostic.Severity)
            )
            .Append(" file=")
            .Append(Property(file.PathOf(diagnostic.Source)))
            .Append(",line=")
            .Append(place.Line)
            .Append(",endLine=")
            .Append(place.Line)
            .Append(",col=")
            .Append(place.Column)
            .Append(",endColumn=")
            .Append(place.Column + place.Length)
            .Append(",title=")
            .Append(Property($"{diagnostic.Code}: {diagnostic.Message.Descriptor.Title}"))
            .Append("::")
            .Append(Data(Message(file, diagnostic)))
            .Append('\n');
    }

    private static string Message(ProtocolFile file, Diagnostic diagnostic)
    {
        var lines = diagnostic
            .Related.Select(r => $"{r.Text} ({file.PathOf(r.Source)}, line {r.Place.Line})")
            .Prepend(diagnostic.Message.Text)
            .Concat(diagnostic.Message.Details);
        return string.Join('\n', diagnostic.Message.Fix is { } fix ? lines.Append(fix) : lines);
    }

    private static string Data(string text) =>
        text.Replace("%", "%25", StringComparison.Ordinal)
            .Replace("\r", "%0D", StringComparison.Ordinal)
            .Replace("\n", "%0A", StringComparison.Ordinal);

    private static string Property(string text) =>
        Data(text)
            .Replace(":", "%3A", StringComparison.Ordinal)
            .Replace(",", "%2C", StringComparison.Ordinal);
}
