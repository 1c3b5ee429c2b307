using ProtocolKit.Model;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 4: what numbers, ages, units and rules mean.</summary>
internal static class MeaningMessages
{
    private const string T = "task a item(three)\n";

    private static readonly Descriptor AgeEntry = new(
        "PK4001",
        Severity.Error,
        "An age that isn't written as one",
        "Ages are written the trade's way: 4;6 is four years six months. Months run from 0 to 11.",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages        all\n  4.0 to 5;11  0 to 2\n  basis provisional \"x\"\n",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         all\n  4;0 to 5;11  0 to 2\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor UncoveredEntry = new(
        "PK4008",
        Severity.Error,
        "Ages without a row",
        "A cut-off table has a row for every age the protocol is for.",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         all\n  4;0 to 4;11  0 to 2\n  basis provisional \"x\"\n",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         all\n  4;0 to 5;11  0 to 2\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor OutsideEntry = new(
        "PK4009",
        Severity.Error,
        "A row outside the protocol's ages",
        "No child the protocol is for can ever use this row.",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         all\n  4;0 to 5;11  0 to 2\n  6;0 to 6;11  0 to 2\n  basis provisional \"x\"\n",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         all\n  4;0 to 5;11  0 to 2\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor RowsOverlapEntry = new(
        "PK4010",
        Severity.Error,
        "Two rows for the same age",
        "Each age has one row. A row includes the whole of its last month: 4;0 to 4;11 ends the day before the fifth birthday.",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         all\n  4;0 to 5;0   0 to 2\n  5;0 to 5;11  0 to 2\n  basis provisional \"x\"\n",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         all\n  4;0 to 4;11  0 to 2\n  5;0 to 5;11  0 to 2\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor BandsOverlapEntry = new(
        "PK4011",
        Severity.Error,
        "A value in two bands",
        "At each age a value belongs to one band. Limits are inclusive at both ends.",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         low     high\n  4;0 to 5;11  0 to 1  1 to 2\n  basis provisional \"x\"\n",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         low  high\n  4;0 to 5;11  0    1 to 2\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor CircleEntry = new(
        "PK4012",
        Severity.Error,
        "A value that depends on itself",
        "A measure or score can't be worked out from itself, directly or through others.",
        "score t \"T\" = 1 + u\nscore u \"U\" = 1 + t\n",
        T + "score t \"T\" = 1 + a\nscore u \"U\" = 1 + t\n"
    );

    private static readonly Descriptor TrialsEntry = new(
        "PK4013",
        Severity.Error,
        "Trials that don't say which counts",
        "With more than one trial the protocol must say which whole trial is kept: highest or lowest by a response or measure, first or last.",
        "task a\n  trials 3\n  rate three\n",
        "task a\n  trials 3, keep highest rate\n  rate three\n"
    );

    private static readonly Descriptor MixedEntry = new(
        "PK4014",
        Severity.Error,
        "And and or together without brackets",
        "People read such rules in two ways. Brackets say which is meant.",
        T + "actions\n  x \"X\"\n    when a = 0 and a = 1 or a = 2\n",
        T + "actions\n  x \"X\"\n    when (a = 0 and a = 1) or a = 2\n"
    );

    private static readonly Descriptor LineTwiceEntry = new(
        "PK4015",
        Severity.Error,
        "The same thing said twice",
        "This line may stand once in its place.",
        "task a\n  contact none\n  contact face\n  rate three\n",
        "task a\n  contact none\n  rate three\n"
    );

    private static readonly Descriptor MissingEntry = new(
        "PK4016",
        Severity.Error,
        "Something a protocol can't do without",
        "A protocol states its title, edition and ages; a score states its value; a table its basis; a scale its levels.",
        "scale x, higher is better\n",
        "scale x, higher is better\n  1 \"Yes.\"\n  0 \"No.\"\n"
    );

    private static readonly Descriptor OverrideEntry = new(
        "PK4017",
        Severity.Error,
        "An answer of the family changed into another kind",
        "A task that uses a family may change the family's words, but not the kind of an answer: the rules that read it would change their meaning unseen.",
        "task a item(three)\n  yes-no rate \"Did it move?\"\n",
        "task a item(three)\n  yes-no moved \"Did it move?\", qualitative\n"
    );

    private static readonly Descriptor VersionEntry = new(
        "PK4018",
        Severity.Error,
        "A language version this program doesn't know",
        "The file was written for a later version of the language. Use a later version of the program: this one can't tell what its words mean, and so reports nothing else.",
        "language 9\nprotocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n",
        "language 1\nprotocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n"
    );

    private static readonly Descriptor BandOrderEntry = new(
        "PK4019",
        Severity.Error,
        "Bands in different orders",
        "Bands stand from the worst on the left to the best. Tables that share bands must agree on it, or “or worse” would mean two things.",
        T
            + "score t \"T\" = 1 * a\nscore u \"U\" = 1 * a\ncut-offs t\n  ages         low  high\n  4;0 to 5;11  0    1 to 2\n  basis provisional \"x\"\ncut-offs u\n  ages         high    low\n  4;0 to 5;11  1 to 2  0\n  basis provisional \"x\"\n",
        T
            + "score t \"T\" = 1 * a\ncut-offs t\n  ages         low  high\n  4;0 to 5;11  0    1 to 2\n  basis provisional \"x\"\n"
    );

    private static readonly Descriptor NothingLeftEntry = new(
        "PK4021",
        Severity.Error,
        "Nothing to add up",
        "No task of the section has such an answer, so there is nothing to work with.",
        "section s \"S\"\n  task a item(three)\nscore t \"T\"\n  add up steps of every task in s\n",
        "section s \"S\"\n  task a item(three)\nscore t \"T\"\n  add up rate of every task in s\n"
    );

    private static readonly Descriptor LeftOutEntry = new(
        "PK4025",
        Severity.Note,
        "Tasks left out of a list",
        "“Every task” means every task that has such an answer. The others are left out; they are listed so that nobody is surprised.",
        "section s \"S\"\n  task a item(three)\n  task b\n    count steps 0 to 5\nscore t \"T\"\n  add up rate of every task in s\nmeasure m = b\n",
        "section s \"S\"\n  task a item(three)\nscore t \"T\"\n  add up rate of every task in s\n"
    );

    private static readonly Descriptor TooMuchEntry = new(
        "PK4027",
        Severity.Error,
        "A protocol too large to give",
        "Sides, places, words, trials and families multiply. No child could be given so much.",
        "task a each word "
            + string.Join(", ", Enumerable.Range(1, 500).Select(i => $"w{i}"))
            + "\n  trials 50, keep first\n"
            + string.Concat(Enumerable.Range(1, 50).Select(i => $"  count c{i} 0 to 9, qualitative\n")),
        "task a each word ball, puppy\n  trials 2, keep first\n  count syllables 0 to 9, qualitative\n"
    );

    private static readonly Descriptor ShortFormEntry = new(
        "PK4026",
        Severity.Error,
        "A short form that isn't one",
        "The header says how long the short form takes (short form 15 min), tasks say that they belong to it, and cut-offs for it say so.",
        "task a item(three) short form\n",
        "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n  short form 5 min\nscale three, higher is better\n  1 \"Yes.\"\n  0 \"No.\"\ntask a short form\n  rate three\n"
    );

    /// <param name="isAge">It has a semicolon, but too many months or years.</param>
    public static Message Age(string written, bool isAge)
    {
        var better = isAge ? CarriedOver(written) : AsAge(written);
        var what = isAge ? $"{written} isn't an age: months run from 0 to 11." : $"{written} isn't an age.";
        return new(
            AgeEntry,
            what,
            better is null
                ? "Write years, a semicolon and months, as in 4;6."
                : $"Write {better} for {Spelt(better)}.",
            better
        );
    }

    private static string? CarriedOver(string written)
    {
        var parts = written.Split(';');
        var isSmall = parts[0].Length <= 2 && parts[1].Length <= 3;
        var months = isSmall ? (12 * Whole(parts[0])) + Whole(parts[1]) : -1;
        return months is >= 0 and < 1200 ? new Age(months).ToString() : null;
    }

    private static string? AsAge(string written)
    {
        var parts = written.Split('.');
        var isSmall = parts[0].Length <= 2 && (parts.Length == 1 || parts[1].Length <= 2);
        var months = !isSmall || parts.Length == 1 ? 0 : Whole(parts[1]);
        return isSmall && months < 12 ? new Age((12 * Whole(parts[0])) + months).ToString() : null;
    }

    private static int Whole(string digits) =>
        int.Parse(digits, System.Globalization.CultureInfo.InvariantCulture);

    private static string Spelt(string age)
    {
        var parts = age.Split(';');
        return $"{parts[0]} {(parts[0] == "1" ? "year" : "years")} {parts[1]} {(parts[1] == "1" ? "month" : "months")}";
    }

    public static Message Uncovered(AgeRange gap, int months) =>
        new(
            UncoveredEntry,
            $"Ages {gap} have no row ({months} {(months == 1 ? "month" : "months")}: {gap.From.Months} to {gap.To.Months}).",
            "Add a row for them, or stretch a neighbour."
        );

    public static Message Outside(AgeRange row, AgeRange protocol) =>
        new(
            OutsideEntry,
            $"The row {row} reaches outside the protocol's ages, {protocol}.",
            "Shorten the row or widen the protocol's ages."
        );

    public static Message RowsOverlap(AgeRange a, AgeRange b) =>
        new(
            RowsOverlapEntry,
            $"The rows {a} and {b} share ages.",
            "End one row the month before the other begins."
        );

    public static Message BandsOverlap(string value, string a, string b) =>
        new(
            BandsOverlapEntry,
            $"{value} lies in both {a} and {b}.",
            "Let one band end before the other begins."
        );

    public static Message Circle(string path) =>
        new(CircleEntry, $"This value depends on itself: {path}.", "Take one of them out of the circle.");

    public static Message Trials(string why, string fix) => new(TrialsEntry, why, fix);

    public static Message Mixed() =>
        new(
            MixedEntry,
            "This rule mixes and with or.",
            "Put brackets around the part that belongs together."
        );

    public static Message LineTwice(string line) =>
        new(
            LineTwiceEntry,
            $"There is {("aeiou".Contains(line[0], StringComparison.Ordinal) ? "an" : "a")} {line} line here already.",
            "Keep one of them."
        );

    public static Message LevelTwice(Rational points) =>
        new(
            LineTwiceEntry,
            $"There is a level with {points} {(points == 1 ? "point" : "points")} already.",
            "Give each level its own points."
        );

    public static Message OrderedTwice(string task) =>
        new(
            LineTwiceEntry,
            $"{task} has its place in the giving order already.",
            "Name every task once, by itself or by its section."
        );

    public static Message TooMuch(long most) =>
        new(
            TooMuchEntry,
            $"Up to here the answers, texts and parts of sums come to more than {most / 1_000_000} million.",
            "Ask for less: fewer words, trials or answers in a family, or sums over fewer tasks."
        );

    public static Message SaidTwice() =>
        new(LineTwiceEntry, "This was said on the line already.", "Keep one of them.");

    public static Message Missing(string what, string fix) => new(MissingEntry, what, fix);

    public static Message Override(string name, string family) =>
        new(
            OverrideEntry,
            $"The family {family} asks for {name} in another way.",
            "Give the new answer a name of its own."
        );

    public static Message Version(string found) =>
        new(
            VersionEntry,
            $"This file is written in version {found} of the language; this program knows version 1.",
            "Use a later version of the program."
        );

    public static Message BandOrder(string a, string b) =>
        new(
            BandOrderEntry,
            $"Here {a} stands before {b}; in another table it is the other way round.",
            "Put the bands into the same order, the worst on the left."
        );

    public static Message NothingLeft(string response, string section) =>
        new(
            NothingLeftEntry,
            $"No task in {section} has an answer called {response}.",
            "Check the name of the answer and of the section."
        );

    public static Message LeftOut(IReadOnlyList<string> tasks, string response) =>
        new(LeftOutEntry, $"Left out, for want of an answer called {response}: {string.Join(", ", tasks)}.");

    public static Message ShortForm(string what, string fix) => new(ShortFormEntry, what, fix);
}
