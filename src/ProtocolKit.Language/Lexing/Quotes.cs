namespace ProtocolKit.Language.Lexing;

/// <summary>Quotes that word processors put in the place of plain double ones.</summary>
internal static class Quotes
{
    private const string Double = "“”„«»";
    private const string Single = "‘’'";

    public static bool IsOther(char c) => Double.Contains(c) || Single.Contains(c);

    /// <summary>
    /// Where a text that begins with such a quote ends, just after its closing one; 0 where there is none on the line.
    /// Single quotes are also apostrophes, so theirs is the last on the line.
    /// </summary>
    public static int EndOf(string text, int start)
    {
        var single = Single.Contains(text[start]);
        var found = 0;
        for (var i = start + 1; i < text.Length && text[i] != '\n'; i++)
        {
            if (!single && (Double.Contains(text[i]) || text[i] == '"'))
            {
                return i + 1;
            }

            if (single && Single.Contains(text[i]))
            {
                found = i + 1;
            }
        }

        return found;
    }
}
