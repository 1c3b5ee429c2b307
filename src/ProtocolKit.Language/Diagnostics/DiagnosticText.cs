using System.Text;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>A diagnostic as people read it: what, where, the line itself with the place marked, what to write instead.</summary>
public static class DiagnosticText
{
    private const string Escape = "\u001b[";
    private const string Plain = Escape + "0m";

    public static string Render(Diagnostic diagnostic) => Render(diagnostic, isColoured: false);

    /// <summary>The same with the escape sequences of ECMA-48 for colours, for terminals.</summary>
    public static string RenderInColour(Diagnostic diagnostic) => Render(diagnostic, isColoured: true);

    public static string Word(Severity severity) => severity.ToString().ToLowerInvariant();

    private static string Render(Diagnostic diagnostic, bool isColoured)
    {
        ArgumentNullException.ThrowIfNull(diagnostic);
        var colour = isColoured ? ColourOf(diagnostic.Severity) : "";
        var text = new StringBuilder();
        text.Append(Painted($"{Word(diagnostic.Severity)} {diagnostic.Code}", colour))
            .Append(": ")
            .Append(ShownLine.Clean(diagnostic.Message.Text))
            .Append('\n');
        Show(text, diagnostic.Source, diagnostic.Place, colour);
        foreach (var related in diagnostic.Related)
        {
            text.Append("  ").Append(ShownLine.Clean(related.Text)).Append('\n');
            Show(text, related.Source, related.Place, isColoured ? Escape + "36m" : "");
        }

        foreach (var detail in diagnostic.Message.Details)
        {
            text.Append("    ").Append(ShownLine.Clean(detail)).Append('\n');
        }

        if (diagnostic.Message.Fix is { } fix)
        {
            text.Append("  ").Append(ShownLine.Clean(fix)).Append('\n');
        }

        return text.ToString();
    }

    private static void Show(StringBuilder text, SourceText source, Place place, string colour)
    {
        text.Append("  ")
            .Append(ShownLine.Clean(source.Name))
            .Append(", line ")
            .Append(place.Line)
            .Append('\n');
        if (ShownLine.Of(source.LineSpan(place.Line), place) is { } shown)
        {
            text.Append("    ").Append(shown.Text).Append('\n');
            text.Append("    ").Append(Painted(shown.Marks, colour)).Append('\n');
        }
    }

    private static string Painted(string text, string colour) =>
        colour.Length == 0 ? text : colour + text + Plain;

    private static string ColourOf(Severity severity) =>
        severity switch
        {
            Severity.Error => Escape + "1;31m",
            Severity.Warning => Escape + "1;33m",
            _ => Escape + "1;36m",
        };
}
