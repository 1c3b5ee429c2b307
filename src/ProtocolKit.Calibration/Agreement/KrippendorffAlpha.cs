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
    private readonly int[] _codes; // of all units with two or more values, one unit after the other
    private readonly int[] _ends; // where each unit's codes end
    private readonly double[] _values; // what the codes stand for, ascending
    private readonly double[] _totals;
    private readonly double _pairable;

    private KrippendorffAlpha(RatingMatrix ratings)
    {
        var (all, values) = ValueCodes.Of(ratings);
        var (codes, ends, at) = (all, new List<int>(), 0); // moved together in place
        for (var s = 0; s < ratings.Subjects; s++)
        {
            var start = at;
            for (var c = s * ratings.Raters; c < (s + 1) * ratings.Raters; c++)
            {
                var code = all[c];
                codes[at] = code;
                at += code >= 0 ? 1 : 0;
            }

            if (at - start >= 2)
            {
                ends.Add(at);
            }
            else
            {
                at = start;
            }
        }

        Require.AtLeast(ends.Count, 1, "Units with two or more values");
        (_codes, _ends, _pairable) = (codes, [.. ends], at);
        (_values, _totals) = Pairable(values);
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
        var positions = metric == AlphaMetric.Ordinal ? Middles() : _values;
        var counts = new int[_values.Length];
        var observed = 0.0;
        for (var (unit, start) = (0, 0); unit < _ends.Length; start = _ends[unit++])
        {
            var codes = _codes.AsSpan(start, _ends[unit] - start);
            var sum = metric is AlphaMetric.Nominal or AlphaMetric.Ratio
                ? Disagreement(Counted(codes, counts), metric)
                : Spread(codes, positions);
            observed += sum / (codes.Length - 1);
        }

        List<(double Value, double Count)> margins = [.. positions.Zip(_totals)];
        return 1 - (observed * (_pairable - 1) / Disagreement(margins, metric));
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

        for (var (unit, start) = (0, 0); unit < _ends.Length; start = _ends[unit++])
        {
            var codes = _codes[start.._ends[unit]];
            var counted = codes.GroupBy(c => c).Select(g => (Code: g.Key, Count: g.Count())).ToList();
            foreach (var (c, countC) in counted)
            {
                foreach (var (k, countK) in counted)
                {
                    matrix[c][k] += countC * (countK - (c == k ? 1.0 : 0)) / (codes.Length - 1);
                }
            }
        }

        return new Coincidences(_values, matrix, _totals, _pairable);
    }

    /// <summary>Ordinal distances are interval distances of middle cumulative counts.</summary>
    private double[] Middles()
    {
        var positions = new double[_values.Length];
        var below = 0.0;
        for (var i = 0; i < positions.Length; i++)
        {
            positions[i] = below + (_totals[i] / 2);
            below += _totals[i];
        }

        return positions;
    }

    /// <summary>Squared distances over all ordered pairs of places in a unit: 2n times the sum of squares about the mean.</summary>
    private static double Spread(ReadOnlySpan<int> codes, double[] positions)
    {
        var sum = 0.0;
        foreach (var code in codes)
        {
            sum += positions[code];
        }

        var (mean, squares) = (sum / codes.Length, 0.0);
        foreach (var code in codes)
        {
            var deviation = positions[code] - mean;
            squares += deviation * deviation;
        }

        return 2 * codes.Length * squares;
    }

    /// <summary>The values of a unit with their counts; the scratch counts are zero before and after.</summary>
    private List<(double Value, double Count)> Counted(ReadOnlySpan<int> codes, int[] counts)
    {
        var result = new List<(double, double)>();
        foreach (var code in codes)
        {
            counts[code]++;
        }

        foreach (var code in codes)
        {
            if (counts[code] > 0)
            {
                result.Add((_values[code], counts[code]));
                counts[code] = 0;
            }
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

    /// <summary>The values that remain once single ratings have dropped out, with their totals; codes are renumbered.</summary>
    private (double[] Values, double[] Totals) Pairable(double[] values)
    {
        var totals = new double[values.Length];
        foreach (var code in _codes.AsSpan(0, (int)_pairable))
        {
            totals[code]++;
        }

        var (number, next) = (new int[values.Length], 0);
        for (var i = 0; i < values.Length; i++)
        {
            number[i] = next;
            next += totals[i] > 0 ? 1 : 0;
        }

        for (var i = 0; next < values.Length && i < (int)_pairable; i++)
        {
            _codes[i] = number[_codes[i]];
        }

        return ([.. values.Where((_, i) => totals[i] > 0)], [.. totals.Where(t => t > 0)]);
    }
}
