using ProtocolKit.Model;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 4, of scores: what is made up for, looked up, compared between sides, or had with help.</summary>
internal static class ScoreMessages
{
    private const string Section =
        "section s \"S\"\n  task a item(three)\n  task b item(three)\nscore t \"T\"\n";

    private static readonly Descriptor ScaledEntry = new(
        "PK4045",
        Severity.Error,
        "Untried parts that can't be made up for",
        "Scaling up works out what a sum would have come to from the points of the parts that were tried. So it goes with add up, and at least one part must have been tried.",
        Section + "  add up rate of every task in s\n  untried scaled up, at most 2\n",
        Section + "  add up rate of every task in s\n  untried scaled up, at most 1\n"
    );

    private static readonly Descriptor HelpEntry = new(
        "PK4049",
        Severity.Error,
        "A ladder of help that doesn't add up",
        "Rungs stand from the least help to the most. One of them may be the start: it and those before are how the task is given. A cost is taken off the points of what came of the help; more help never costs less.",
        "task a\n  rate three\n  help said again (costs 1), started together\nscore t \"T\" = 1 * a\n",
        "task a\n  rate three\n  help said again, started together (costs 1)\nscore t \"T\" = 1 * a\n"
    );

    public static Message Help(string what, string fix) => new(HelpEntry, what, fix);

    private const string SidedTasks =
        "section s \"S\"\n  task a item(three), each side right, left\n  task b item(three), each side right, left\nside difference d \"Left minus right\"\n  rate of every sided task in s\n";

    private static readonly Descriptor SidesEntry = new(
        "PK4048",
        Severity.Error,
        "Sides that can't be compared",
        "A side difference takes the right side from the left, task by task. So each task is given for both sides, says what is better, and there are at least as many tasks as must agree before a side is called the weaker one.",
        SidedTasks + "  weaker side needs 3 tasks that agree\n",
        SidedTasks + "  weaker side needs 2 tasks that agree\n"
    );

    public static Message Sides(string what, string fix) => new(SidesEntry, what, fix);

    private const string TableHead = "task a item(three)\nscore t \"T\" = 1 * a\ntable p \"P\" of t\n";

    private const string WholeTable =
        TableHead + "  raw     4;0 to 5;11\n  0       10\n  1 to 2  50\n  basis provisional \"x\"\n";

    private static readonly Descriptor TableEntry = new(
        "PK2045",
        Severity.Error,
        "A table that can't be read",
        "A table begins with the word raw and the ages of its columns. Then each row begins with a raw value, or a range of them, and has a result under each age. Two or more spaces split cells.",
        TableHead + "  raw     4;0 to 5;11\n  0       10  20\n  1 to 2  50\n  basis provisional \"x\"\n",
        WholeTable
    );

    private static readonly Descriptor UncoveredEntry = new(
        "PK4046",
        Severity.Error,
        "A value without a result",
        "A table is never interpolated and has no results beyond its rows: every value that can occur, at every age of the protocol, stands in it.",
        TableHead + "  raw  4;0 to 5;11\n  0    10\n  2    50\n  basis provisional \"x\"\n",
        WholeTable
    );

    private static readonly Descriptor TwiceEntry = new(
        "PK4047",
        Severity.Error,
        "Two results for one value",
        "At each age a value has one result, so rows may not share raw values and columns may not share ages.",
        TableHead + "  raw     4;0 to 5;11\n  0 to 1  10\n  1 to 2  50\n  basis provisional \"x\"\n",
        WholeTable
    );

    public static Message NoAgesHeading() =>
        new(
            TableEntry,
            "The table has no heading.",
            "Begin it with a line such as: raw  4;0 to 4;11  5;0 to 5;11"
        );

    public static Message NoAges(string found) =>
        new(
            TableEntry,
            $"“{found}” isn't a range of ages.",
            "Write the ages of each column, such as 4;0 to 4;11, with two spaces between them."
        );

    public static Message NoRaw(string found) =>
        new(
            TableEntry,
            $"A row can't begin with “{found}”.",
            "Begin it with a raw value or a range of them, such as 3 to 4, then two spaces."
        );

    public static Message NoResult(string found) =>
        new(
            TableEntry,
            $"“{found}” is neither a number nor none.",
            "Write one number a cell, with two spaces between cells."
        );

    public static Message TableCells(int found, int wanted) =>
        new(
            TableEntry,
            $"This row has {Count(found, "result")}, but the table has {Count(wanted, "column")} of ages.",
            "Split cells with two or more spaces, one under each heading; write none where there is no result."
        );

    public static Message NoResultFor(string values, AgeRange ages) =>
        new(
            UncoveredEntry,
            $"{values} can occur, but has no result at {ages}.",
            "Add a row for it, or let a row next to it reach further."
        );

    public static Message NoColumn(AgeRange gap, int months) =>
        new(
            UncoveredEntry,
            $"Ages {gap} have no column ({Count(months, "month")}: {gap.From.Months} to {gap.To.Months}).",
            "Add a column for them, or stretch a neighbour."
        );

    public static Message RawTwice(string values) =>
        new(TwiceEntry, $"{values} stands in two rows.", "Let one row end before the other begins.");

    public static Message ColumnsOverlap(AgeRange a, AgeRange b) =>
        new(
            TwiceEntry,
            $"The columns {a} and {b} share ages.",
            "End one column the month before the other begins."
        );

    public static Message ScaledFormula(string name) =>
        new(
            ScaledEntry,
            $"{name} isn't a sum, so nothing in it can be scaled up.",
            "Scale up a score that begins with add up, and use that one here; or write untried blocks."
        );

    public static Message ScaledFromNothing(string name, int atMost, int parts) =>
        new(
            ScaledEntry,
            $"{name} has {parts} {(parts == 1 ? "part" : "parts")}, so {(atMost == 1 ? "1 untried one leaves" : $"{atMost} untried ones could leave")} nothing to scale up from.",
            parts > 1 ? $"Write at most {parts - 1}, or fewer." : "Write untried blocks."
        );

    private static string Count(int number, string noun) => number == 1 ? $"1 {noun}" : $"{number} {noun}s";
}
