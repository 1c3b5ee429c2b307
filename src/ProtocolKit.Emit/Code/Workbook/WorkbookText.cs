using System.Text;
using System.Text.RegularExpressions;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>Texts of cells.</summary>
internal static partial class WorkbookText
{
    /// <summary>More characters than this fit in no cell.</summary>
    private const int Longest = 32_767;

    /// <summary>What XML and spreadsheets can't hold is shown instead of carried; nothing is read as an escape.</summary>
    public static string Cell(string text)
    {
        var cell = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            var isHeld =
                rune.Value is 0x9 or 0xA || (rune.Value >= 0x20 && rune.Value is not (0xFFFE or 0xFFFF));
            cell.Append(isHeld ? rune.ToString() : "\uFFFD");
        }

        var held = Escape().Replace(cell.ToString(), "_x005F_x");
        return held.Length <= Longest ? held : held[..(Longest - 1)] + "…";
    }

    public static IReadOnlyList<string> ReadMe(Protocol protocol) =>
        [
            protocol.Title,
            "",
            .. CodeHeader.Identity(protocol),
            "",
            .. CodeHeader.Cautions(protocol),
            "",
            "Entry: one row a child, under a code and never a name. The second row says what each cell takes; a cell "
                + "refuses anything else. Give a number in its unit, an option's name, or why not: "
                + string.Join(", ", States.Untried.Select(u => u.Code))
                + ". Leave blank only what was not due: a further trial that was not needed, a task off the short form, or "
                + "one that is skipped, stopped, below the start or closed by the case history.",
            "Results: of every value its state, both ends and its band, every action, the headline, what was not tried, "
                + "and what is wrong with a row. Where something is wrong, nothing else is said of the row. A value without a "
                + "step is a fraction: NAME.low over NAME.low-over.",
            "Scoring: every line of the scoring in a column of its own, the limits proved for it in the second row. No "
                + "value on the way exceeds 10^14, up to which a spreadsheet keeps whole numbers exact.",
            "More children: copy the last row of Results and of Scoring further down, and go on in Entry.",
            "There are no macros. Whatever is changed on the sheets Results, Scoring and Lists is unproved.",
        ];

    [GeneratedRegex("_x(?=[0-9A-Fa-f]{4}_)")]
    private static partial Regex Escape();
}
