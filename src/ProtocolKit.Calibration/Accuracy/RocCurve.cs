using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Accuracy;

/// <summary>Which values speak for a case.</summary>
public enum CaseDirection
{
    /// <summary>Higher values: positive when value > threshold.</summary>
    Higher,

    /// <summary>Lower values: positive when value &lt; threshold.</summary>
    Lower,
}

/// <summary>One cut of the curve. Thresholds lie midway between neighbouring values; the ends are infinite.</summary>
public sealed record RocPoint(
    double Threshold,
    int TruePositives,
    int FalseNegatives,
    int TrueNegatives,
    int FalsePositives
)
{
    public double Sensitivity => TruePositives / (double)(TruePositives + FalseNegatives);

    public double Specificity => TrueNegatives / (double)(TrueNegatives + FalsePositives);

    public double Youden => Sensitivity + Specificity - 1;

    /// <summary>Squared distance from the corner where everything is right.</summary>
    public double CornerDistance => Math.Pow(1 - Sensitivity, 2) + Math.Pow(1 - Specificity, 2);

    public DiagnosticTable Table() => new(TruePositives, FalsePositives, FalseNegatives, TrueNegatives);
}

/// <summary>
/// A receiver operating characteristic from scores of cases and controls, ties counted as half. Area by ranks
/// (Mann–Whitney); error of Hanley JA, McNeil BJ (1982) Radiology 143:29-36; DeLong ER, DeLong DM, Clarke-Pearson DL
/// (1988) Biometrics 44:837-845 in the n log n form of Sun X, Xu W (2014) IEEE Signal Process Lett 21:1389-1393.
/// </summary>
public sealed class RocCurve
{
    private readonly double[] _cases;
    private readonly double[] _controls;

    private RocCurve(double[] cases, double[] controls, CaseDirection direction)
    {
        Require.AtLeast(cases.Length, 1, "Cases (children the reference says have it)");
        Require.AtLeast(controls.Length, 1, "Controls (children the reference says don't)");
        Require.Finite(cases.Concat(controls), "Scores");
        Direction = direction;
        var sign = direction == CaseDirection.Higher ? 1 : -1;
        _cases = [.. cases.Select(c => sign * c)];
        _controls = [.. controls.Select(c => sign * c)];
        Components = DeLongComponents.Of(_cases, _controls);
    }

    public CaseDirection Direction { get; }

    public int Cases => _cases.Length;

    public int Controls => _controls.Length;

    /// <summary>The share of case–control pairs in the right order, ties as half.</summary>
    public double Area => Components.Area;

    /// <summary>The parts DeLong's variance is made of.</summary>
    public DeLongComponents Components { get; }

    public static RocCurve Of(
        IReadOnlyList<double> cases,
        IReadOnlyList<double> controls,
        CaseDirection direction = CaseDirection.Higher
    ) => new([.. cases], [.. controls], direction);

    /// <summary>The standard error of Hanley and McNeil (1982), from the area and the two counts alone.</summary>
    public double HanleyMcNeilError() => HanleyMcNeilError(Area, Cases, Controls);

    /// <summary>The same for an area known from elsewhere, as planning needs it.</summary>
    public static double HanleyMcNeilError(double area, double cases, double controls)
    {
        Require.That(
            area is >= 0 and <= 1 && cases > 0 && controls > 0,
            "An area lies between 0 and 1, and both groups need children."
        );
        var q1 = area / (2 - area);
        var q2 = 2 * area * area / (1 + area);
        var sum =
            (area * (1 - area))
            + ((cases - 1) * (q1 - (area * area)))
            + ((controls - 1) * (q2 - (area * area)));
        return Math.Sqrt(Math.Max(0, sum) / (cases * controls));
    }

    /// <summary>DeLong's variance of the area; null with fewer than two cases or controls. 0 for separate groups: then no interval is credible.</summary>
    public double? DeLongVariance => Components.Variance;

    /// <summary>area ± z × DeLong's error, cut to 0 and 1.</summary>
    public Interval? DeLongInterval(double confidence = 0.95) =>
        DeLongVariance is { } variance
            ? Interval
                .Around(Area, Distributions.NormalMultiplier(confidence) * Math.Sqrt(variance))
                .Within(0, 1)
            : null;

    /// <summary>The interval on the logit scale, which stays inside 0 and 1; null for areas of 0 or 1.</summary>
    public Interval? LogitInterval(double confidence = 0.95)
    {
        if (DeLongVariance is not { } variance || Area is <= 0 or >= 1)
        {
            return null;
        }

        var logit = Math.Log(Area / (1 - Area));
        var half = Distributions.NormalMultiplier(confidence) * Math.Sqrt(variance) / (Area * (1 - Area));
        return Interval.Around(logit, half).Map(x => 1 / (1 + Math.Exp(-x)));
    }

    /// <summary>Every cut, from "all positive" to "none positive".</summary>
    public IReadOnlyList<RocPoint> Points()
    {
        var cases = _cases.Order().ToArray();
        var controls = _controls.Order().ToArray();
        var sign = Direction == CaseDirection.Higher ? 1 : -1;
        var points = new List<RocPoint> { Point(double.NegativeInfinity, 0, 0) };
        var (i, j) = (0, 0);
        while (i < cases.Length || j < controls.Length)
        {
            var value = Math.Min(At(cases, i), At(controls, j));
            while (i < cases.Length && cases[i] == value)
            {
                i++;
            }

            while (j < controls.Length && controls[j] == value)
            {
                j++;
            }

            var next = Math.Min(At(cases, i), At(controls, j));
            points.Add(Point(double.IsPositiveInfinity(next) ? next : (value + next) / 2, i, j));
        }

        return points;

        RocPoint Point(double threshold, int casesBelow, int controlsBelow) =>
            new(sign * threshold, Cases - casesBelow, casesBelow, controlsBelow, Controls - controlsBelow);
    }

    /// <summary>All cuts with the largest sensitivity + specificity − 1.</summary>
    public IReadOnlyList<RocPoint> BestByYouden() => Best(p => p.Youden);

    /// <summary>All cuts closest to the corner where everything is right.</summary>
    public IReadOnlyList<RocPoint> ClosestToCorner() => Best(p => -p.CornerDistance);

    /// <summary>
    /// All cuts with the least expected cost: prevalence × (1 − sensitivity) × cost of a missed child + (1 − prevalence)
    /// × (1 − specificity) × cost of a false alarm (Metz CE (1978) Semin Nucl Med 8:283-298).
    /// </summary>
    public IReadOnlyList<RocPoint> BestByCost(double prevalence, double costOfMiss, double costOfFalseAlarm)
    {
        Require.That(
            prevalence is > 0 and < 1 && costOfMiss > 0 && costOfFalseAlarm > 0,
            "A prevalence lies between 0 and 1, and costs are above 0."
        );
        return Best(p =>
            -(
                (prevalence * (1 - p.Sensitivity) * costOfMiss)
                + ((1 - prevalence) * (1 - p.Specificity) * costOfFalseAlarm)
            )
        );
    }

    /// <summary>The cut with the best specificity among those with at least this sensitivity; there always is one.</summary>
    public RocPoint AtSensitivity(double least)
    {
        Require.That(least is >= 0 and <= 1, "A sensitivity lies between 0 and 1.");
        return Points().Where(p => p.Sensitivity >= least - 1e-12).MaxBy(p => p.Specificity)!;
    }

    private List<RocPoint> Best(Func<RocPoint, double> worth)
    {
        var points = Points();
        var best = points.Max(worth);
        return [.. points.Where(p => worth(p) >= best - 1e-12)];
    }

    private static double At(double[] sorted, int index) =>
        index < sorted.Length ? sorted[index] : double.PositiveInfinity;
}
