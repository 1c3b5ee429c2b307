using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 2: the shape of a line.</summary>
internal static class LineMessages
{
    private static readonly Descriptor UnknownWordEntry = new(
        "PK2001",
        Severity.Error,
        "A line begins with an unknown word",
        "The first word of a line says what the line is. The reference lists the words that may stand in each place.",
        "taks a item(three)\n",
        "task a item(three)\n"
    );

    private static readonly Descriptor WrongPlaceEntry = new(
        "PK2002",
        Severity.Error,
        "A line in the wrong place",
        "The word is known, but it belongs under another statement: say under a task, title under protocol.",
        "say \"Go.\"\n",
        "task a\n  say \"Go.\"\n  rate three\n"
    );

    private static readonly Descriptor NothingUnderEntry = new(
        "PK2003",
        Severity.Error,
        "Something indented under a line that takes nothing",
        "This statement is complete on its line.",
        "band low \"Low\"\n  say \"Go.\"\n",
        "band low \"Low\"\n"
    );

    private static readonly Descriptor EndsTooSoonEntry = new(
        "PK2004",
        Severity.Error,
        "A line that stops too soon",
        "Something is missing at the end of the line.",
        "task a\n  rate\n",
        "task a\n  rate three\n"
    );

    private static readonly Descriptor TooMuchEntry = new(
        "PK2005",
        Severity.Error,
        "More on a line than belongs there",
        "The line could have ended before this word. Perhaps a comma is missing, or the word belongs on a line of its own.",
        "task a\n  rate three higher\n",
        "task a\n  rate three\n"
    );

    private static readonly Descriptor UnexpectedEntry = new(
        "PK2006",
        Severity.Error,
        "Something else belongs here",
        "The line begins well, but at this place something else must stand.",
        "task a\n  say Point.\n  rate three\n",
        "task a\n  say \"Point.\"\n  rate three\n"
    );

    private static readonly Descriptor NoWordEntry = new(
        "PK2007",
        Severity.Error,
        "A line that doesn't begin with a word",
        "Every line begins with the word that says what it is; levels of a scale begin with their points.",
        "\"Tongue\"\n",
        "section tongue \"Tongue\"\n  task a item(three)\n"
    );

    private static readonly Descriptor MinusEntry = new(
        "PK2008",
        Severity.Error,
        "A minus without a space on both sides",
        "Names hold hyphens, so a minus between two values needs a space before and after it.",
        "task jaw item(three) each side left, right\nmeasure d = jaw.left -jaw.right\n",
        "task jaw item(three) each side left, right\nmeasure d = jaw.left - jaw.right\n"
    );

    private static readonly Descriptor CellsEntry = new(
        "PK2009",
        Severity.Error,
        "A row that doesn't fit its table",
        "Cells are split by two or more spaces and stand under their headings. Write none where no value falls into a band.",
        "task a item(three)\nscore t \"T\" = 1 * a\ncut-offs t\n  ages  low  high\n  4;0 to 5;11  0  1  2\n  basis provisional \"x\"\n",
        "task a item(three)\nscore t \"T\" = 1 * a\ncut-offs t\n  ages         low  high\n  4;0 to 5;11  0    1 to 2\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor NoHeadingEntry = new(
        "PK2010",
        Severity.Error,
        "A table without its heading",
        "The first line under cut-offs begins with ages and names the bands, from the worst on the left to the best.",
        "task a item(three)\nscore t \"T\" = 1 * a\ncut-offs t\n  4;0 to 5;11  0 to 2\n  basis provisional \"x\"\n",
        "task a item(three)\nscore t \"T\" = 1 * a\ncut-offs t\n  ages         any\n  4;0 to 5;11  0 to 2\n  basis provisional \"x\"\n"
    );

    public static Message UnknownWord(string word, string? nearest, IReadOnlyList<string> known) =>
        new(
            UnknownWordEntry,
            $"No line begins with {Quote(word)} here.",
            nearest is not null ? $"Did you mean {Quote(nearest)}?"
                : known.Count > 8 ? $"Lines here begin, for example, with {List(known.Take(8))}."
                : $"Lines here begin with {List(known)}.",
            nearest
        );

    public static Message WrongPlace(string word, string where) =>
        new(WrongPlaceEntry, $"{Quote(word)} doesn't belong here.", $"It belongs {where}.");

    public static Message NothingGoesUnder(string word) =>
        new(
            NothingUnderEntry,
            $"Nothing can be indented under a line that begins with {Quote(word)}.",
            "Move this line under the statement it belongs to, or to the margin."
        );

    public static Message EndsTooSoon(string[] expected) =>
        new(EndsTooSoonEntry, "The line stops too soon.", $"Go on with {Expected(expected)}.");

    public static Message TooMuch(string found) =>
        new(
            TooMuchEntry,
            $"{Quote(found)} is more than belongs on this line.",
            "Remove it, or check for a missing comma before it."
        );

    public static Message FamilyBrackets(string found) =>
        new(
            TooMuchEntry,
            $"{Quote(found)} is more than belongs on this line.",
            $"If it is a family, write {found}(…) with what it is handed in the brackets."
        );

    /// <param name="family">What may be a family without its brackets, or null.</param>
    public static Message NameOfWords(string joined, string? family) =>
        new(
            TooMuchEntry,
            "A name is one word, its parts joined by hyphens.",
            $"Write {joined}{(family is null ? "." : $"; or, if {family} is a family, {family}(…) with its brackets.")}",
            family is null ? joined : null
        );

    /// <param name="after">What stands before it; null at the beginning of the line.</param>
    /// <param name="nearest">The word it is a slip of the hand for, or null.</param>
    public static Message Unexpected(string? after, string found, string[] expected, string? nearest) =>
        nearest is not null
            ? new(
                UnexpectedEntry,
                $"{Quote(found)} can't stand here.",
                $"Did you mean {Quote(nearest)}?",
                nearest
            )
        : after is null
            ? new(
                UnexpectedEntry,
                $"{Quote(found)} can't begin a line here.",
                $"Begin it with {Expected(expected)}."
            )
        : new(
            UnexpectedEntry,
            $"{Quote(found)} can't stand here.",
            $"Write {Expected(expected)} after {Quote(after)}."
        );

    /// <param name="instead">The words in quotes, where it is plain which they are.</param>
    public static Message NeedsQuotes(string? instead) =>
        new(
            UnexpectedEntry,
            "A text stands in double quotes.",
            instead is null ? "Put the words into double quotes." : $"Write {instead}",
            instead
        );

    public static Message RangeWord(string instead) =>
        new(UnexpectedEntry, "A range is written with to.", $"Write {instead}.", instead);

    public static Message Figures(string word, string figures) =>
        new(
            UnexpectedEntry,
            $"Numbers are written in figures, not as {Quote(word)}.",
            $"Write {figures}.",
            figures
        );

    public static Message InnerQuote() =>
        new(
            UnexpectedEntry,
            "The text ends at the quote before this.",
            "A quote inside a text is written \\\"."
        );

    public static Message OtherSign(string found, string better) =>
        new(UnexpectedEntry, $"The sign {found} isn't used here.", $"Write {better}.", better);

    public static Message OtherWord(string found, string better) =>
        new(
            UnexpectedEntry,
            $"{Quote(found)} isn't a word for this here.",
            $"Write {Quote(better)}.",
            better
        );

    /// <param name="isLevel">It looks like a level of a scale.</param>
    public static Message NoWord(string found, bool isLevel) =>
        new(
            NoWordEntry,
            $"A line can't begin with {Quote(found)} here.",
            isLevel
                ? "If it is a level of a scale, indent it under its scale."
                : "Begin it with the word that says what it is."
        );

    public static Message MinusNeedsSpaces(string? instead) =>
        new(
            MinusEntry,
            "A minus between two values needs a space on both sides.",
            instead is null ? "Put a space before and after it." : $"Write {instead}.",
            instead
        );

    public static Message HeadingSpaces(string instead) =>
        new(CellsEntry, "Bands in a heading are split by two or more spaces.", $"Write {instead}", instead);

    /// <param name="instead">The row as it must have been meant.</param>
    public static Message RowSpaces(string instead) =>
        new(CellsEntry, "Cells are split by two or more spaces.", $"Write {instead}", instead);

    public static Message AfterAges() =>
        new(
            CellsEntry,
            "Only one thing may be added to the ages of a row: that it also holds with tasks left out.",
            "Write “, also with tasks left out”, or two spaces and the first cell."
        );

    public static Message Cells(int found, int wanted) =>
        new(
            CellsEntry,
            $"This row has {Count(found, "cell")} after the ages, but the table has {Count(wanted, "band")}.",
            "Split cells with two or more spaces, one under each heading; write none for an empty one."
        );

    /// <param name="instead">The range it must be meant to be, or null.</param>
    public static Message CellUnreadable(string found, string? instead) =>
        new(
            CellsEntry,
            $"The cell {Quote(found)} is neither a number, a range such as 3 to 4, nor none.",
            instead is not null ? $"Write {instead}."
                : found.AsSpan().IndexOfAny("<>≤≥") >= 0
                    ? "A cell says both ends: write the lowest and the highest value that fall into it, such as 0 to 1."
                : "Write it in one of these ways, with two spaces between cells.",
            instead
        );

    public static Message NoBand(string found) =>
        new(
            CellsEntry,
            $"{Quote(found)} is not the name of a band.",
            "Write the names of the bands, with two spaces between them."
        );

    public static Message NoHeading() =>
        new(
            NoHeadingEntry,
            "The table has no heading.",
            "Begin it with a line such as: ages  look-further  look-again  as-expected"
        );

    private static string Quote(string text) => text.StartsWith('"') ? text : $"“{text}”";

    private static string Count(int number, string noun) => number == 1 ? $"1 {noun}" : $"{number} {noun}s";

    /// <summary>Words to be written as they stand are marked; kinds of things are named.</summary>
    private static string Expected(string[] expected)
    {
        var known = expected
            .Where(e => e != "end of input")
            .Select(e => e.StartsWith('`') ? Quote(e.Trim('`')) : e);
        var list = known.Distinct(StringComparer.Ordinal).ToList();
        return list.Count == 0 ? "the rest of the line" : List(list);
    }

    private static string List(IEnumerable<string> words)
    {
        var list = words.ToList();
        return list.Count == 1 ? list[0] : string.Join(", ", list.Take(list.Count - 1)) + " or " + list[^1];
    }
}
