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
        var (line, column) = Window(source.LineSpan(place.Line), place.Column);
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
    private static (string Line, int Column) Window(ReadOnlySpan<char> line, int column)
    {
        if (line.Length <= WidestLine)
        {
            return (Clean(line), Math.Max(1, column));
        }

        var start = Math.Clamp(column - (WidestLine / 2), 0, line.Length - 1);
        var end = Math.Min(line.Length, start + WidestLine);
        return (Clean(line[start..end]), Math.Max(1, column - start));
    }

    /// <summary>Control characters and marks of direction would move the cursor of a terminal.</summary>
    private static string Clean(ReadOnlySpan<char> line)
    {
        var clean = line.ToString().ToCharArray();
        for (var i = 0; i < clean.Length; i++)
        {
            var isMark =
                char.IsControl(clean[i]) || char.GetUnicodeCategory(clean[i]) == UnicodeCategory.Format;
            clean[i] = isMark || IsHalf(clean, i) ? ' ' : clean[i];
        }

        return new string(clean);
    }

    /// <summary>Half of a character, which no terminal can show.</summary>
    private static bool IsHalf(char[] text, int at)
    {
        var before = at > 0 ? text[at - 1] : ' ';
        var after = at + 1 < text.Length ? text[at + 1] : ' ';
        return (char.IsHighSurrogate(text[at]) && !char.IsLowSurrogate(after))
            || (char.IsLowSurrogate(text[at]) && !char.IsHighSurrogate(before));
    }
}
