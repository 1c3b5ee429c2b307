namespace ProtocolKit.Calibration.Agreement;

/// <summary>
/// Ratings: a row for each subject (child, sitting, unit), a column for each rater (item, trial). A cell may be missing.
/// Values are numbers; categories are numbered by the caller.
/// </summary>
public sealed class RatingMatrix
{
    private readonly double[] _cells; // NaN stands for a missing cell and never leaves this class as a number.

    private RatingMatrix(double[] cells, int subjects, int raters)
    {
        _cells = cells;
        Subjects = subjects;
        Raters = raters;
        Missing = cells.Count(double.IsNaN);
    }

    public int Subjects { get; }

    public int Raters { get; }

    /// <summary>How many cells are missing.</summary>
    public int Missing { get; }

    /// <summary>A row each subject. All rows must be as long as the first; a null is a missing rating.</summary>
    public static RatingMatrix FromRows(IReadOnlyList<IReadOnlyList<double?>> rows)
    {
        Require.AtLeast(rows.Count, 1, "Subjects");
        var raters = rows[0].Count;
        Require.AtLeast(raters, 1, "Raters");
        var cells = new double[rows.Count * raters];
        for (var s = 0; s < rows.Count; s++)
        {
            Require.That(
                rows[s].Count == raters,
                $"Row {s + 1} has {rows[s].Count} ratings where row 1 has {raters}."
            );
            for (var r = 0; r < raters; r++)
            {
                var value = rows[s][r];
                Require.That(
                    value is null || double.IsFinite(value.Value),
                    $"Row {s + 1}, column {r + 1}: a rating must be a finite number or missing."
                );
                cells[(s * raters) + r] = value ?? double.NaN;
            }
        }

        return new RatingMatrix(cells, rows.Count, raters);
    }

    /// <summary>A complete matrix, a row each subject.</summary>
    public static RatingMatrix FromRows(IReadOnlyList<double[]> rows) =>
        FromRows([.. rows.Select(r => (IReadOnlyList<double?>)[.. r.Select(v => (double?)v)])]);

    /// <summary>A list each rater, all over the same subjects in the same order.</summary>
    public static RatingMatrix FromColumns(IReadOnlyList<IReadOnlyList<double?>> columns)
    {
        Require.AtLeast(columns.Count, 1, "Raters");
        var subjects = columns[0].Count;
        Require.That(
            columns.All(c => c.Count == subjects),
            "Every rater must have as many entries, missing ones included."
        );
        return FromRows([
            .. Enumerable
                .Range(0, subjects)
                .Select(s => (IReadOnlyList<double?>)[.. columns.Select(c => c[s])]),
        ]);
    }

    public double? this[int subject, int rater]
    {
        get
        {
            var value = _cells[(subject * Raters) + rater];
            return double.IsNaN(value) ? null : value;
        }
    }

    /// <summary>The ratings of one subject that are there, in the order of the raters.</summary>
    public IEnumerable<double> Present(int subject)
    {
        for (var r = 0; r < Raters; r++)
        {
            if (this[subject, r] is { } value)
            {
                yield return value;
            }
        }
    }

    /// <summary>All different values, ascending.</summary>
    public double[] Levels() => [.. _cells.Where(c => !double.IsNaN(c)).Distinct().Order()];

    /// <summary>Only the subjects that every rater rated.</summary>
    public RatingMatrix CompleteRows()
    {
        if (Missing == 0)
        {
            return this;
        }

        var kept = Enumerable.Range(0, Subjects).Where(s => Present(s).Count() == Raters).ToArray();
        var cells = kept.SelectMany(s => Row(s).ToArray()).ToArray();
        return new RatingMatrix(cells, kept.Length, Raters);
    }

    /// <summary>The ratings of one rater; the matrix must be complete.</summary>
    public double[] Column(int rater)
    {
        Require.That(Missing == 0, "A complete table is needed here; some ratings are missing.");
        var column = new double[Subjects];
        for (var s = 0; s < Subjects; s++)
        {
            column[s] = _cells[(s * Raters) + rater];
        }

        return column;
    }

    /// <summary>All cells of a complete matrix, row after row.</summary>
    internal ReadOnlySpan<double> Cells()
    {
        Require.That(Missing == 0, "A complete table is needed here; some ratings are missing.");
        return _cells;
    }

    /// <summary>All cells, row after row, NaN for missing.</summary>
    internal ReadOnlySpan<double> AllCells() => _cells;

    /// <summary>One row as stored, NaN for missing.</summary>
    internal ReadOnlySpan<double> Row(int subject) => _cells.AsSpan(subject * Raters, Raters);
}
