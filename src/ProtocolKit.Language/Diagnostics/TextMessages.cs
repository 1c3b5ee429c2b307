using System.Globalization;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 1: the characters of a file.</summary>
internal static class TextMessages
{
    private static readonly Descriptor TabEntry = new(
        "PK1001",
        Severity.Error,
        "A tab",
        "Tabs look different on every screen, so what is indented under what would depend on the reader. Indent with spaces, two a level.",
        "section s \"S\"\n\ttask a item(three)\n",
        "section s \"S\"\n  task a item(three)\n"
    );

    private static readonly Descriptor StrayEntry = new(
        "PK1002",
        Severity.Error,
        "A character that means nothing here",
        "Outside quoted texts only letters, digits and the signs of the language may stand. Put spoken or printed words in double quotes.",
        "score t \"T\" = 1 % 2\n",
        "task a item(three)\nscore t \"T\" = 2 * a\n"
    );

    private static readonly Descriptor OpenTextEntry = new(
        "PK1003",
        Severity.Error,
        "A text without its closing quote",
        "A text begins and ends with a double quote on the same line. A long text goes on in a second quoted text, indented on the next line. A quote inside a text is written \\\".",
        "section s \"S\n",
        "section s \"S\"\n"
    );

    private static readonly Descriptor TouchEntry = new(
        "PK1004",
        Severity.Error,
        "A number and its unit without a space",
        "A quantity is a number, a space and a unit, as in 3 s or 12 mm.",
        "task a\n  hold 3s\n  rate three\n",
        "task a\n  hold 3 s\n  rate three\n"
    );

    private static readonly Descriptor DeepBracketsEntry = new(
        "PK1005",
        Severity.Error,
        "Too much inside each other",
        "Nobody can follow a rule with so many brackets, ifs or nots inside each other. Give its parts names of their own with measures or scores.",
        "score t \"T\" = " + new string('(', 60) + "1" + new string(')', 60) + "\n",
        "score t \"T\" = (1)\n"
    );

    private static readonly Descriptor LongRuleEntry = new(
        "PK1012",
        Severity.Error,
        "A rule too long to follow",
        "A formula or condition of so many parts can't be checked by eye. Add up lists with add up, and give its parts names of their own.",
        "task a item(three)\nscore t \"T\" = a" + string.Concat(Enumerable.Repeat(" + a", 600)) + "\n",
        "task a item(three)\nscore t \"T\" = 600 * a\n"
    );

    private static readonly Descriptor LongNumberEntry = new(
        "PK1013",
        Severity.Error,
        "A number with too many digits",
        "No answer of a child needs so many digits.",
        "task a\n  count steps 0 to 1000000000000000000000000000000000000000000\n",
        "task a\n  count steps 0 to 100\n"
    );

    private static readonly Descriptor IndentedStartEntry = new(
        "PK1006",
        Severity.Error,
        "The file begins with an indented line",
        "Statements such as protocol, scale or section begin at the margin.",
        "  protocol tiny\n    title \"Tiny\"\n    edition 1\n    ages 4;0 to 5;11\n",
        "protocol tiny\n  title \"Tiny\"\n  edition 1\n  ages 4;0 to 5;11\n"
    );

    private static readonly Descriptor IndentationEntry = new(
        "PK1007",
        Severity.Error,
        "A line that lines up with nothing",
        "Lines that belong together start in the same column. This one starts between two columns in use, so it could belong to either.",
        "task a\n    say \"Go.\"\n  rate three\n",
        "task a\n  say \"Go.\"\n  rate three\n"
    );

    private static readonly Descriptor DeepIndentationEntry = new(
        "PK1008",
        Severity.Error,
        "Indented too deeply",
        "No statement needs so many levels of indentation. Bring the line under the statement it belongs to.",
        "section a \"A\"\n"
            + string.Concat(Enumerable.Range(1, 14).Select(i => new string(' ', i) + "say \"Go.\"\n")),
        "task a item(three)\n"
    );

    private static readonly Descriptor NotTextEntry = new(
        "PK1009",
        Severity.Error,
        "Not a text file",
        "The file holds characters that no text has, as pictures, PDFs and word-processor files do. Save the protocol as plain text (UTF-8).",
        "protocol\0tiny\n",
        "protocol tiny\n  title \"Tiny\"\n  edition 1\n  ages 4;0 to 5;11\n"
    );

    private static readonly Descriptor TooLargeEntry = new(
        "PK1010",
        Severity.Error,
        "A file too large to be a protocol",
        "A protocol of thousands of tasks fits into a few megabytes. This file is larger; it is probably not a protocol.",
        "",
        "protocol tiny\n  title \"Tiny\"\n  edition 1\n  ages 4;0 to 5;11\n"
    );

    private static readonly Descriptor EmptyEntry = new(
        "PK1011",
        Severity.Error,
        "An empty file",
        "A protocol begins with the line protocol and a name. The command new writes one to start from.",
        "# nothing here\n",
        "protocol tiny\n  title \"Tiny\"\n  edition 1\n  ages 4;0 to 5;11\n"
    );

    /// <param name="spaces">How many spaces the line may be meant to begin with.</param>
    public static Message TabIndent(IReadOnlyList<int> spaces) =>
        new(
            TabEntry,
            "There is a tab here, and tabs can't be used for indenting.",
            $"Begin the line with {string.Join(" or ", spaces)} {(spaces[^1] == 1 ? "space" : "spaces")}"
                + (spaces.Count == 1 ? "." : ", as it belongs beside the line above or under it."),
            spaces.Count == 1 ? new string(' ', Math.Min(spaces[0], 200)) : null
        );

    public static Message Tab() =>
        new(
            TabEntry,
            "There is a tab between the words of this line, and tabs look different on every screen.",
            "Put two spaces in its place.",
            "  "
        );

    public static Message StrayCharacter(string found) =>
        found switch
        {
            "'" or "‘" or "’" => Stray(
                "A single quote has no meaning here.",
                "Put texts into plain double quotes."
            ),
            "“" or "”" or "„" or "«" or "»" => Stray(
                "This text is not closed.",
                "Put it into plain double quotes."
            ),
            "–" or "—" or "−" => Stray("This is a dash, not a minus or hyphen.", "Write - instead.", "-"),
            "×" or "·" => Stray($"The sign {found} isn't used here.", "Write * to multiply.", "*"),
            "÷" => Stray("The sign ÷ isn't used here.", "Write / to divide.", "/"),
            "≤" => Stray("The sign ≤ isn't used here.", "Write <= for at most.", "<="),
            "≥" => Stray("The sign ≥ isn't used here.", "Write >= for at least.", ">="),
            "≠" => Stray("The sign ≠ isn't used here.", "Write <> for not equal.", "<>"),
            "\u00a0" or "\u202f" or "\u2007" => Stray(
                "This looks like a space but is another character.",
                "Put a plain space in its place.",
                " "
            ),
            "{" or "}" => Stray(
                "Braces have no meaning outside a quoted text.",
                "Put the words into double quotes."
            ),
            ";" => Stray("A semicolon stands only inside an age such as 4;6.", "Remove it."),
            ":" => Stray("A colon has no meaning outside a quoted text.", "Remove it.", ""),
            "\r" => Stray(
                "A line ends here in a way only very old programs know.",
                "Save the file with ordinary line ends."
            ),
            _ when IsInvisible(found) => Stray(
                $"There is a character here that can't be used (number {Number(found)}).",
                "Remove it."
            ),
            _ => Stray(
                $"The character {found} has no meaning here.",
                "Remove it, or put the words into double quotes."
            ),
        };

    public static Message OtherQuotes(string text) =>
        Shown(text) is { } shown
            ? Stray("Texts stand in plain double quotes.", $"Write {shown}", shown)
            : Stray("Texts stand in plain double quotes.", "Replace the quotes at both ends.");

    public static Message OpenText() =>
        new(OpenTextEntry, "This text has no closing quote.", "Put a \" where it ends, on the same line.");

    public static Message NumberTouchesWord(string number, string word) =>
        new(
            TouchEntry,
            $"A space is missing between {number} and {word}.",
            $"Write {number} {word}.",
            $"{number} {word}"
        );

    public static Message DeepRule(int most) =>
        new(
            DeepBracketsEntry,
            $"More than {most} things stand inside each other here.",
            "Name the parts with measures or scores."
        );

    public static Message LongRule(int most) =>
        new(
            LongRuleEntry,
            $"This line has more than {most} signs and joining words.",
            "Add up lists with add up, or name the parts with measures or scores."
        );

    public static Message LongNumber(int most) =>
        new(LongNumberEntry, $"This number has more than {most} digits.", "Write a shorter one.");

    public static Message IndentedStart() =>
        new(
            IndentedStartEntry,
            "The first statement of a file stands at the margin.",
            "Remove the spaces before it."
        );

    public static Message Indentation(int wanted, int found) =>
        new(
            IndentationEntry,
            $"This line starts {At(found)}, but the line it stands beside starts after {wanted}.",
            "Start both in the same column."
        );

    public static Message Under(int parent, int found) =>
        new(
            IndentationEntry,
            $"This line starts {At(found)}, but the line it belongs under starts {At(parent)}.",
            "Start it 2 spaces further right than that line."
        );

    private static string At(int indent) =>
        indent switch
        {
            0 => "at the margin",
            1 => "after 1 space",
            _ => $"after {indent} spaces",
        };

    public static Message DeepIndentation() =>
        new(
            DeepIndentationEntry,
            "This line is indented deeper than any statement needs.",
            "Bring it back to the statement it belongs under."
        );

    public static Message NotText() =>
        new(
            NotTextEntry,
            "This is not a plain text file.",
            "Save the protocol as plain text (UTF-8) and try again."
        );

    public static Message FileTooLarge(int most) =>
        new(
            TooLargeEntry,
            $"This file has more than {most / 1000000} million characters.",
            "Check that it is the protocol you meant."
        );

    public static Message Empty() =>
        new(
            EmptyEntry,
            "There is nothing in this file yet.",
            "Begin with protocol and a name, or let the command new write a first one."
        );

    private static Message Stray(string text, string fix, string? edit = null) =>
        new(StrayEntry, text, fix, edit);

    private static string? Shown(string text) =>
        text.Length > 80 || text.Contains('"', StringComparison.Ordinal) ? null : $"\"{text}\"";

    private static bool IsInvisible(string found) =>
        char.IsControl(found, 0)
        || char.IsWhiteSpace(found, 0)
        || (found.Length == 1 && char.IsSurrogate(found[0]))
        || char.GetUnicodeCategory(found, 0)
            is UnicodeCategory.Format
                or UnicodeCategory.OtherNotAssigned
                or UnicodeCategory.PrivateUse;

    private static string Number(string found) =>
        (found.Length == 1 ? found[0] : char.ConvertToUtf32(found, 0)).ToString(CultureInfo.InvariantCulture);
}
