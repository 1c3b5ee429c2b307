namespace ProtocolKit.Model;

/// <summary>
/// What a study found, ready to be printed: plain texts, tables and plots. It never holds a number that isn't one;
/// what the data don't hold is said in words.
/// </summary>
public sealed record StudyReport
{
    /// <summary>As the command names it: <c>agreement</c>, <c>items</c>, <c>cut-offs</c>, <c>norms</c>, <c>change</c>.</summary>
    public required string Kind { get; init; }
    public required string Title { get; init; }
    public required Protocol Protocol { get; init; }

    /// <summary>What was asked, so that the study can be run again to the byte.</summary>
    public required IReadOnlyList<EvidenceFact> Asked { get; init; }

    /// <summary>The shape of the data.</summary>
    public required IReadOnlyList<EvidenceFact> Data { get; init; }

    /// <summary>What was not used, and why.</summary>
    public required IReadOnlyList<EvidenceFact> LeftOut { get; init; }
    public required IReadOnlyList<EvidenceSection> Sections { get; init; }

    /// <summary>What may be concluded, in a clinician's words.</summary>
    public required IReadOnlyList<string> May { get; init; }
    public required IReadOnlyList<string> MayNot { get; init; }

    /// <summary>Text to paste into the protocol.</summary>
    public IReadOnlyList<PasteBlock> Blocks { get; init; } = [];

    public IEnumerable<EvidenceTable> Tables => Sections.SelectMany(s => s.Tables);
}

/// <summary>A name and what stands beside it.</summary>
public sealed record EvidenceFact(string Name, string Text);

public sealed record EvidenceSection(
    string Title,
    IReadOnlyList<string> Text,
    IReadOnlyList<EvidenceTable> Tables,
    IReadOnlyList<EvidencePlot> Plots
);

/// <param name="Name">Unique in the report; the name of its file and its key in JSON.</param>
/// <param name="Note">How to read it; empty when nothing needs saying.</param>
public sealed record EvidenceTable(
    string Name,
    string Title,
    IReadOnlyList<EvidenceColumn> Columns,
    IReadOnlyList<IReadOnlyList<EvidenceCell>> Rows,
    string Note
);

/// <param name="Name">The column's name in files; a column of intervals becomes two, ending in <c>-low</c> and <c>-high</c>.</param>
public sealed record EvidenceColumn(string Name, string Title, bool IsInterval = false);

/// <summary>A cell: what is printed, and the figures behind it where there are any.</summary>
public sealed record EvidenceCell
{
    private EvidenceCell(string text) => Text = text;

    public string Text { get; }

    /// <summary>In full precision; null for texts, intervals and what is not defined.</summary>
    public double? Value { get; private init; }
    public double? Low { get; private init; }
    public double? High { get; private init; }

    public bool IsFigure => Value is not null || Low is not null || High is not null;

    public static EvidenceCell Of(string text) => new(text);

    public static EvidenceCell Of(int count) =>
        new(count.ToString(System.Globalization.CultureInfo.InvariantCulture)) { Value = count };

    /// <summary>A figure; <paramref name="otherwise"/> stands where there is none or where it is infinite.</summary>
    public static EvidenceCell Of(double? value, int decimals = 2, string otherwise = "not defined") =>
        value is { } number && double.IsFinite(number)
            ? new EvidenceCell(Figure(number, decimals)) { Value = number }
            : new EvidenceCell(otherwise);

    /// <summary>An interval; a limit that is infinite is said in words.</summary>
    public static EvidenceCell Between(double? low, double? high, int decimals = 2)
    {
        var (from, to) = (Finite(low), Finite(high));
        var text =
            from is { } a && to is { } b ? $"{Figure(a, decimals)} to {Figure(b, decimals)}"
            : from is { } least ? $"{Figure(least, decimals)} or more"
            : to is { } most ? $"{Figure(most, decimals)} or less"
            : "not defined";
        return new EvidenceCell(text) { Low = from, High = to };
    }

    /// <summary>A number as it is printed; never "-0".</summary>
    public static string Figure(double value, int decimals)
    {
        var text = Math.Round(value, decimals, MidpointRounding.AwayFromZero)
            .ToString($"F{decimals}", System.Globalization.CultureInfo.InvariantCulture);
        return text.StartsWith('-') && text.All(c => c is '-' or '0' or '.') ? text[1..] : text;
    }

    private static double? Finite(double? value) =>
        value is { } number && double.IsFinite(number) ? number : null;
}

/// <summary>Lines to paste into the protocol.</summary>
/// <param name="Provisional">Why the basis stays provisional; empty where it doesn't.</param>
public sealed record PasteBlock(string Title, string Text, string Provisional)
{
    /// <summary>What could not be proved of the protocol with it; empty where everything was, or nothing needs proof.</summary>
    public string NotProved { get; init; } = "";
}
