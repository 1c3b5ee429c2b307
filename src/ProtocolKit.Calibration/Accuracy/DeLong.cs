using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Accuracy;

/// <summary>The structural components of an area: one number for each case (V10) and each control (V01).</summary>
public sealed class DeLongComponents
{
    private readonly double[] _cases;
    private readonly double[] _controls;

    private DeLongComponents(double[] cases, double[] controls, double area)
    {
        (_cases, _controls, Area) = (cases, controls, area);
    }

    public double Area { get; }

    /// <summary>The variance of the area; null with fewer than two cases or controls.</summary>
    public double? Variance => Covariance(this);

    /// <summary>The covariance with another area over the same cases and controls in the same order.</summary>
    public double? Covariance(DeLongComponents other)
    {
        Require.That(
            _cases.Length == other._cases.Length && _controls.Length == other._controls.Length,
            "Two paired curves need the same children in the same order."
        );
        return _cases.Length < 2 || _controls.Length < 2
            ? null
            : (Product(_cases, other._cases) / _cases.Length)
                + (Product(_controls, other._controls) / _controls.Length);
    }

    /// <summary>By sorting: time grows with n log n. Higher values speak for a case.</summary>
    internal static DeLongComponents Of(double[] cases, double[] controls)
    {
        var (m, n) = (cases.Length, controls.Length);
        var (ofCases, ofControls) = (new double[m], new double[n]);
        var caseOrder = Order(cases, out var sortedCases);
        var controlOrder = Order(controls, out var sortedControls);
        var total = 0.0;
        for (int i = 0, below = 0, upTo = 0; i < m; i++)
        {
            below = Advance(sortedControls, below, sortedCases[i], false);
            upTo = Advance(sortedControls, Math.Max(upTo, below), sortedCases[i], true);
            var wins = (below + upTo) / 2.0;
            ofCases[caseOrder[i]] = wins / n;
            total += wins;
        }

        for (int j = 0, below = 0, upTo = 0; j < n; j++)
        {
            below = Advance(sortedCases, below, sortedControls[j], false);
            upTo = Advance(sortedCases, Math.Max(upTo, below), sortedControls[j], true);
            ofControls[controlOrder[j]] = 1 - ((below + upTo) / 2.0 / m);
        }

        return new DeLongComponents(ofCases, ofControls, total / m / n);
    }

    private static double Product(double[] mine, double[] others)
    {
        var (meanMine, meanOthers) = (mine.Sum() / mine.Length, others.Sum() / others.Length);
        var sum = 0.0;
        for (var i = 0; i < mine.Length; i++)
        {
            sum += (mine[i] - meanMine) * (others[i] - meanOthers);
        }

        return sum / (mine.Length - 1);
    }

    private static int[] Order(double[] values, out double[] sorted)
    {
        sorted = [.. values];
        var order = new int[values.Length];
        for (var i = 0; i < order.Length; i++)
        {
            order[i] = i;
        }

        Array.Sort(sorted, order);
        return order;
    }

    private static int Advance(double[] sorted, int from, double value, bool included)
    {
        while (from < sorted.Length && (sorted[from] < value || (included && sorted[from] == value)))
        {
            from++;
        }

        return from;
    }
}

/// <summary>The difference of two areas.</summary>
/// <param name="Covariance">Null for unpaired curves.</param>
/// <param name="DegreesOfFreedom">Null for paired curves, whose statistic is normal.</param>
public sealed record AreaDifference(
    double First,
    double Second,
    double Difference,
    double? Covariance,
    double StandardError,
    double Statistic,
    double? DegreesOfFreedom,
    double P,
    Interval Interval
);

/// <summary>DeLong's tests: two scores on the same children (paired), or two groups of children (unpaired, Welch's df).</summary>
public static class DeLongTest
{
    /// <summary>Both curves over the same children, cases and controls each in the same order.</summary>
    public static AreaDifference Paired(RocCurve first, RocCurve second, double confidence = 0.95)
    {
        var covariance = first.Components.Covariance(second.Components);
        Require.That(
            covariance is not null,
            "Comparing two areas needs at least two cases and two controls."
        );
        var variance = first.DeLongVariance!.Value + second.DeLongVariance!.Value - (2 * covariance!.Value);
        Require.That(variance > 0, "The two areas can't be compared: their difference has no variance.");
        var (difference, error) = (first.Area - second.Area, Math.Sqrt(variance));
        var z = difference / error;
        return new AreaDifference(
            first.Area,
            second.Area,
            difference,
            covariance,
            error,
            z,
            null,
            Distributions.NormalTwoSided(z),
            Interval.Around(difference, Distributions.NormalMultiplier(confidence) * error)
        );
    }

    /// <summary>Curves over different children; degrees of freedom after Welch and Satterthwaite over all children of a curve.</summary>
    public static AreaDifference Unpaired(RocCurve first, RocCurve second, double confidence = 0.95)
    {
        Require.That(
            first.DeLongVariance is not null && second.DeLongVariance is not null,
            "Comparing two areas needs at least two cases and two controls in each."
        );
        var (v, w) = (first.DeLongVariance!.Value, second.DeLongVariance!.Value);
        Require.That(v + w > 0, "The two areas can't be compared: neither has any variance.");
        var (difference, error) = (first.Area - second.Area, Math.Sqrt(v + w));
        var df =
            Math.Pow(v + w, 2)
            / ((v * v / (first.Cases + first.Controls - 1)) + (w * w / (second.Cases + second.Controls - 1)));
        var d = difference / error;
        return new AreaDifference(
            first.Area,
            second.Area,
            difference,
            null,
            error,
            d,
            df,
            Distributions.StudentTwoSided(d, df),
            Interval.Around(difference, Distributions.StudentMultiplier(confidence, df) * error)
        );
    }
}
