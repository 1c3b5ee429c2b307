using System.Globalization;
using System.Text;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>A diagnostic as people read it: what, where, the line itself with the place marked, what to write instead.</summary>
public static class DiagnosticText
{
    private const int WidestLine = 160;

    public static string Render(Diagnostic diagnostic)
    {
        ArgumentNullException.ThrowIfNull(diagnostic);
        var text = new StringBuilder();
        text.Append(
            CultureInfo.InvariantCulture,
            $"{Word(diagnostic.Severity)} {diagnostic.Code}: {diagnostic.Message.Text}\n"
        );
        Show(text, diagnostic.Source, diagnostic.Place);
        foreach (var related in diagnostic.Related)
        {
            text.Append(CultureInfo.InvariantCulture, $"  {related.Text}\n");
            Show(text, related.Source, related.Place);
        }

        if (diagnostic.Message.Fix is { } fix)
        {
            text.Append(CultureInfo.InvariantCulture, $"  {fix}\n");
        }

        return text.ToString();
    }

    public static string Word(Severity severity) => severity.ToString().ToLowerInvariant();

    private static void Show(StringBuilder text, SourceText source, Place place)
    {
        text.Append(CultureInfo.InvariantCulture, $"  {source.Name}, line {place.Line}\n");
        var (line, column) = Window(Clean(source.Line(place.Line)), place.Column);
        if (line.Length == 0)
        {
            return;
        }

        var room = Math.Max(1, Math.Min(place.Length, line.Length - column + 1));
        text.Append(CultureInfo.InvariantCulture, $"    {line}\n");
        text.Append(
            CultureInfo.InvariantCulture,
            $"    {new string(' ', column - 1)}{new string('^', room)}\n"
        );
    }

    /// <summary>The part of a long line around the place.</summary>
    private static (string Line, int Column) Window(string line, int column)
    {
        if (line.Length <= WidestLine)
        {
            return (line, Math.Max(1, column));
        }

        var start = Math.Clamp(column - (WidestLine / 2), 0, line.Length - 1);
        var end = Math.Min(line.Length, start + WidestLine);
        return (line[start..end], Math.Max(1, column - start));
    }

    /// <summary>Control characters would move the cursor of a terminal.</summary>
    private static string Clean(string line) =>
        string.Create(
            line.Length,
            line,
            (span, from) =>
            {
                for (var i = 0; i < span.Length; i++)
                {
                    span[i] = char.IsControl(from[i]) ? ' ' : from[i];
                }
            }
        );
}
