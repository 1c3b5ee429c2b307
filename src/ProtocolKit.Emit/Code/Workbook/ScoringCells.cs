using System.Globalization;

namespace ProtocolKit.Emit.Code.Workbook;

/// <param name="Name">Above the column.</param>
/// <param name="Note">Limits and meaning.</param>
/// <param name="Formula">For the first child's row; every other row is the same further down.</param>
internal sealed record FormulaColumn(string Name, string Note, string Formula);

/// <summary>The columns of the scoring sheet, one a line, in the order in which they were worked out.</summary>
internal sealed class ScoringCells
{
    public const string Sheet = "Scoring";

    /// <summary>The row of the first child on every sheet.</summary>
    public const int FirstRow = 3;

    /// <summary>Excel reads no formula of more than 8,192 characters.</summary>
    private const int LongestFormula = 8000;

    private const int LongestPart = 6000;

    private readonly List<FormulaColumn> _columns = [];

    public IReadOnlyList<FormulaColumn> Columns => _columns;

    /// <summary>The longest formula that could not be split, by its column; none where all fit.</summary>
    public string? TooLong { get; private set; }

    /// <summary>Adds a column and gives the cell in the first child's row.</summary>
    public string Add(string name, string note, string formula)
    {
        if (formula.Length > LongestFormula)
        {
            TooLong ??= name;
        }

        _columns.Add(new FormulaColumn(name, note, formula));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{CellNames.Column(_columns.Count - 1)}{FirstRow}"
        );
    }

    /// <summary>Joins parts; where they are too long together, parts of them get columns of their own first.</summary>
    /// <param name="join">Writes some parts as one.</param>
    public string Joined(string name, IReadOnlyList<string> parts, Func<IReadOnlyList<string>, string> join)
    {
        var groups = Groups(parts);
        if (groups.Count == 1)
        {
            return join(groups[0]);
        }

        var cells = groups
            .Select((g, i) => Add(Invariant($"{name} (part {i + 1})"), "part of the next", join(g)))
            .ToList();
        return Joined(name, cells, join);
    }

    private static List<List<string>> Groups(IReadOnlyList<string> parts)
    {
        var groups = new List<List<string>> { new() };
        var length = 0;
        foreach (var part in parts)
        {
            if (groups[^1].Count > 0 && (length + part.Length > LongestPart || groups[^1].Count >= 200))
            {
                groups.Add([]);
                length = 0;
            }

            groups[^1].Add(part);
            length += part.Length + 3;
        }

        return groups;
    }

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
