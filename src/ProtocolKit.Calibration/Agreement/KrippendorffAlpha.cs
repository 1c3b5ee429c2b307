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
    private readonly UnitCounts _units;
    private readonly double _pairable;

    private KrippendorffAlpha(RatingMatrix ratings)
    {
        _units = UnitCounts.Of(ratings);
        _pairable = _units.Totals.Sum();
    }

    /// <summary>A row each unit, a column each observer.</summary>
    public static KrippendorffAlpha Of(RatingMatrix unitsByObservers) => new(unitsByObservers);

    /// <summary>Alpha = 1 − observed / expected disagreement.</summary>
    /// <exception cref="NotEstimableException">All values are the same, or a ratio metric meets values below zero.</exception>
    public double Alpha(AlphaMetric metric)
    {
        Require.That(_units.Values.Length > 1, "Alpha can't be computed: all values are the same.");
        Require.That(
            metric != AlphaMetric.Ratio || _units.Values[0] >= 0,
            "The ratio metric needs values of zero or more."
        );
        var positions = metric == AlphaMetric.Ordinal ? Middles() : _units.Values;
        var observed = 0.0;
        for (var unit = 0; unit < _units.Units; unit++)
        {
            var counted = _units[unit];
            observed += Disagreement(counted, positions, metric) / (Size(counted) - 1);
        }

        CountedValue[] margins = [.. _units.Totals.Select((t, code) => new CountedValue(code, (int)t))];
        return 1 - (observed * (_pairable - 1) / Disagreement(margins, positions, metric));
    }

    /// <summary>The coincidence matrix over the values that occur.</summary>
    public Coincidences Coincidences()
    {
        double[][] matrix = [.. _units.Values.Select(_ => new double[_units.Values.Length])];
        for (var unit = 0; unit < _units.Units; unit++)
        {
            var counted = _units[unit];
            var others = Size(counted) - 1;
            foreach (var (c, countC) in counted)
            {
                foreach (var (k, countK) in counted)
                {
                    matrix[c][k] += countC * (countK - (c == k ? 1.0 : 0)) / others;
                }
            }
        }

        return new Coincidences(_units.Values, matrix, _units.Totals, _pairable);
    }

    /// <summary>Ordinal distances are interval distances of middle cumulative counts.</summary>
    private double[] Middles()
    {
        var positions = new double[_units.Totals.Length];
        var below = 0.0;
        for (var i = 0; i < positions.Length; i++)
        {
            positions[i] = below + (_units.Totals[i] / 2);
            below += _units.Totals[i];
        }

        return positions;
    }

    private static double Size(ReadOnlySpan<CountedValue> counted)
    {
        var size = 0.0;
        foreach (var (_, count) in counted)
        {
            size += count;
        }

        return size;
    }

    /// <summary>The sum of distances over all ordered pairs of different places in one set of counted values.</summary>
    private static double Disagreement(
        ReadOnlySpan<CountedValue> counted,
        double[] positions,
        AlphaMetric metric
    ) =>
        metric switch
        {
            AlphaMetric.Nominal => Differing(counted),
            AlphaMetric.Ratio => Relative(counted, positions),
            _ => Spread(counted, positions),
        };

    private static double Differing(ReadOnlySpan<CountedValue> counted)
    {
        var (size, same) = (Size(counted), 0.0);
        foreach (var (_, count) in counted)
        {
            same += (double)count * count;
        }

        return (size * size) - same;
    }

    /// <summary>Squared distances over all ordered pairs: 2n times the sum of squares about the mean.</summary>
    private static double Spread(ReadOnlySpan<CountedValue> counted, double[] positions)
    {
        var (size, sum, squares) = (Size(counted), 0.0, 0.0);
        foreach (var (code, count) in counted)
        {
            sum += count * positions[code];
        }

        foreach (var (code, count) in counted)
        {
            var deviation = positions[code] - (sum / size);
            squares += count * deviation * deviation;
        }

        return 2 * size * squares;
    }

    private static double Relative(ReadOnlySpan<CountedValue> counted, double[] positions)
    {
        var sum = 0.0;
        for (var i = 0; i < counted.Length; i++)
        {
            for (var j = i + 1; j < counted.Length; j++)
            {
                var (a, b) = (positions[counted[i].Code], positions[counted[j].Code]);
                var share = (b - a) / (b + a);
                sum += 2.0 * counted[i].Count * counted[j].Count * share * share;
            }
        }

        return sum;
    }
}
