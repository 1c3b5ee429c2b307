namespace ProtocolKit.Calibration.Agreement;

/// <summary>
/// Counts of two raters over the same subjects: row the first rater's category, column the second's. Levels that
/// nobody used keep their row and column: weights depend on the declared scale, not on what happened to occur.
/// </summary>
public sealed class AgreementTable
{
    private readonly double[,] _counts;

    private AgreementTable(double[,] counts, IReadOnlyList<double> levels)
    {
        _counts = counts;
        Levels = levels;
        foreach (var count in counts)
        {
            Require.That(double.IsFinite(count) && count >= 0, "A count in a table must be zero or more.");
            Total += count;
        }

        Require.That(Total > 0, "The table is empty: there is no subject that both raters rated.");
    }

    /// <summary>The declared levels, ascending in the order of rows and columns.</summary>
    public IReadOnlyList<double> Levels { get; }

    public int Size => Levels.Count;

    /// <summary>The number of subjects.</summary>
    public double Total { get; }

    public double this[int row, int column] => _counts[row, column];

    /// <summary>A table of counts. Levels are 1, 2, … where none are given.</summary>
    public static AgreementTable FromCounts(
        IReadOnlyList<IReadOnlyList<double>> counts,
        IReadOnlyList<double>? levels = null
    )
    {
        var size = counts.Count;
        Require.AtLeast(size, 2, "Categories of an agreement table");
        Require.That(
            counts.All(r => r.Count == size),
            "An agreement table is square: as many columns as rows."
        );
        Require.That(
            levels is null || levels.Count == size,
            "There must be one level for each row of the table."
        );
        var table = new double[size, size];
        for (var i = 0; i < size; i++)
        {
            for (var j = 0; j < size; j++)
            {
                table[i, j] = counts[i][j];
            }
        }

        return new AgreementTable(table, levels ?? [.. Enumerable.Range(1, size).Select(i => (double)i)]);
    }

    /// <summary>
    /// The table of two lists. Pairs with a missing side are left out. Without declared levels, those that occur
    /// are used, and the caller should say so.
    /// </summary>
    public static AgreementTable FromPairs(
        IReadOnlyList<double?> first,
        IReadOnlyList<double?> second,
        IReadOnlyList<double>? levels = null
    )
    {
        Require.SameLength(first.Count, second.Count, "Two raters");
        var pairs = first
            .Zip(second)
            .Where(p => p.First is not null && p.Second is not null)
            .Select(p => (First: p.First!.Value, Second: p.Second!.Value))
            .ToList();
        Require.AtLeast(pairs.Count, 1, "Subjects rated by both raters");
        levels ??= [.. pairs.SelectMany(p => new[] { p.First, p.Second }).Distinct().Order()];
        var position = levels.Select((level, i) => (level, i)).ToDictionary(p => p.level, p => p.i);
        var table = new double[levels.Count, levels.Count];
        foreach (var (a, b) in pairs)
        {
            Require.That(
                position.ContainsKey(a) && position.ContainsKey(b),
                "A rating lies outside the declared levels."
            );
            table[position[a], position[b]]++;
        }

        return new AgreementTable(table, levels);
    }

    public double RowTotal(int row) => Enumerable.Range(0, Size).Sum(j => _counts[row, j]);

    public double ColumnTotal(int column) => Enumerable.Range(0, Size).Sum(i => _counts[i, column]);

    /// <summary>The share of subjects on whom both raters chose the same category.</summary>
    public double PercentAgreement => Enumerable.Range(0, Size).Sum(i => _counts[i, i]) / Total;

    /// <summary>The share of subjects whose two categories are at most <paramref name="steps"/> positions apart.</summary>
    public double AgreementWithin(int steps) =>
        Enumerable
            .Range(0, Size)
            .Sum(i => Enumerable.Range(0, Size).Where(j => Math.Abs(i - j) <= steps).Sum(j => _counts[i, j]))
        / Total;

    /// <summary>Every subject as a pair of category positions, for methods that work on single ratings. Whole counts only.</summary>
    public IEnumerable<(int First, int Second)> Subjects()
    {
        for (var i = 0; i < Size; i++)
        {
            for (var j = 0; j < Size; j++)
            {
                Require.That(_counts[i, j] == Math.Floor(_counts[i, j]), "Counts of subjects must be whole.");
                for (var c = 0; c < (int)_counts[i, j]; c++)
                {
                    yield return (i, j);
                }
            }
        }
    }
}
