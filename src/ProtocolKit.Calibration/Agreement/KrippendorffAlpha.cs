namespace ProtocolKit.Calibration.Agreement;

/// <summary>How far two values disagree, squared.</summary>
public enum AlphaMetric
{
    Nominal,
    Ordinal,
    Interval,
    Ratio,
}

/// <summary>Coincidences of values within units: the table Krippendorff's alpha is computed from.</summary>
public sealed record Coincidences(
    IReadOnlyList<double> Values,
    IReadOnlyList<IReadOnlyList<double>> Matrix,
    IReadOnlyList<double> Totals,
    double Pairable
);

/// <summary>
/// Krippendorff's alpha for any number of observers and missing values. Source: Krippendorff K (2011) Computing
/// Krippendorff's Alpha-Reliability, University of Pennsylvania. Units with fewer than two values drop out. Nominal,
/// ordinal and interval distances use closed forms of the sums over pairs, so time grows with the number of ratings;
/// the ratio metric compares all different values. 1 is perfect, 0 chance; below 0 systematic disagreement.
/// </summary>
public sealed class KrippendorffAlpha
{
    private readonly List<double[]> _units = [];
    private readonly double[] _values;
    private readonly double[] _totals;
    private readonly double _pairable;

    private KrippendorffAlpha(RatingMatrix ratings)
    {
        for (var s = 0; s < ratings.Subjects; s++)
        {
            var row = ratings.Row(s);
            var present = new double[row.Length];
            var count = 0;
            foreach (var value in row)
            {
                if (!double.IsNaN(value))
                {
                    present[count++] = value;
                }
            }

            if (count >= 2)
            {
                Array.Resize(ref present, count);
                Array.Sort(present);
                _units.Add(present);
            }
        }

        Require.AtLeast(_units.Count, 1, "Units with two or more values");
        (_values, _totals) = Marginals(_units);
        _pairable = _totals.Sum();
    }

    /// <summary>A row each unit, a column each observer.</summary>
    public static KrippendorffAlpha Of(RatingMatrix unitsByObservers) => new(unitsByObservers);

    /// <summary>Alpha = 1 − observed / expected disagreement.</summary>
    /// <exception cref="NotEstimableException">All values are the same, or a ratio metric meets values below zero.</exception>
    public double Alpha(AlphaMetric metric)
    {
        Require.That(_values.Length > 1, "Alpha can't be computed: all values are the same.");
        Require.That(
            metric != AlphaMetric.Ratio || _values[0] >= 0,
            "The ratio metric needs values of zero or more."
        );
        var positions = Positions(metric);
        var observed = _units.Sum(u => Disagreement(Compress(u, positions), metric) / (u.Length - 1));
        var expected =
            Disagreement([.. _values.Select((_, i) => (Position(positions, i), _totals[i]))], metric)
            / (_pairable - 1);
        return 1 - (observed / expected);
    }

    /// <summary>The coincidence matrix over the values that occur.</summary>
    public Coincidences Coincidences()
    {
        var size = _values.Length;
        var matrix = new double[size][];
        for (var i = 0; i < size; i++)
        {
            matrix[i] = new double[size];
        }

        foreach (var unit in _units)
        {
            var counts = Compress(unit, null);
            foreach (var (c, countC) in counts)
            {
                foreach (var (k, countK) in counts)
                {
                    var (i, j) = (Array.BinarySearch(_values, c), Array.BinarySearch(_values, k));
                    matrix[i][j] += countC * (countK - (i == j ? 1 : 0)) / (unit.Length - 1);
                }
            }
        }

        return new Coincidences(_values, matrix, _totals, _pairable);
    }

    /// <summary>Where each value stands for its metric; ordinal distances are interval distances of middle cumulative counts.</summary>
    private double[]? Positions(AlphaMetric metric)
    {
        if (metric != AlphaMetric.Ordinal)
        {
            return null;
        }

        var positions = new double[_values.Length];
        var below = 0.0;
        for (var i = 0; i < positions.Length; i++)
        {
            positions[i] = below + (_totals[i] / 2);
            below += _totals[i];
        }

        return positions;
    }

    private double Position(double[]? positions, int index) =>
        positions is null ? _values[index] : positions[index];

    private List<(double Value, double Count)> Compress(double[] sorted, double[]? positions)
    {
        var result = new List<(double, double)>();
        for (var start = 0; start < sorted.Length; )
        {
            var end = start;
            while (end < sorted.Length && sorted[end] == sorted[start])
            {
                end++;
            }

            var value = positions is null
                ? sorted[start]
                : positions[Array.BinarySearch(_values, sorted[start])];
            result.Add((value, end - start));
            start = end;
        }

        return result;
    }

    /// <summary>The sum of distances over all ordered pairs of different places in one set of counted values.</summary>
    private static double Disagreement(List<(double Value, double Count)> counts, AlphaMetric metric)
    {
        var total = counts.Sum(c => c.Count);
        if (metric == AlphaMetric.Nominal)
        {
            return (total * total) - counts.Sum(c => c.Count * c.Count);
        }

        if (metric != AlphaMetric.Ratio)
        {
            var mean = counts.Sum(c => c.Count * c.Value) / total;
            return 2 * total * counts.Sum(c => c.Count * (c.Value - mean) * (c.Value - mean));
        }

        var sum = 0.0;
        for (var i = 0; i < counts.Count; i++)
        {
            for (var j = i + 1; j < counts.Count; j++)
            {
                var share = (counts[j].Value - counts[i].Value) / (counts[j].Value + counts[i].Value);
                sum += 2 * counts[i].Count * counts[j].Count * share * share;
            }
        }

        return sum;
    }

    private static (double[] Values, double[] Totals) Marginals(List<double[]> units)
    {
        var all = new double[units.Sum(u => u.Length)];
        var at = 0;
        foreach (var unit in units)
        {
            unit.CopyTo(all, at);
            at += unit.Length;
        }

        Array.Sort(all);
        var values = new List<double>();
        var totals = new List<double>();
        foreach (var value in all)
        {
            if (values.Count == 0 || values[^1] != value)
            {
                values.Add(value);
                totals.Add(0);
            }

            totals[^1]++;
        }

        return ([.. values], [.. totals]);
    }
}
