using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.CutOffs;

/// <summary>A whole cut: refer with totals below it.</summary>
public sealed record ReferralRow(
    double ReferIfBelow,
    int Missed,
    int FalseReferrals,
    double Sensitivity,
    double Specificity
)
{
    public int Misclassified => Missed + FalseReferrals;

    public double Youden => Sensitivity + Specificity - 1;
}

/// <summary>The logistic curve of P(case) over the total.</summary>
/// <param name="Cut">Where P = ½ with the groups' own shares.</param>
/// <param name="Error">Delta-method error of the cut.</param>
/// <param name="CutEqualPrior">Where P = ½ if both groups were equally common.</param>
public sealed record LogisticCut(
    double Intercept,
    double Slope,
    double Cut,
    double Error,
    double Share,
    double CutEqualPrior
);

/// <summary>
/// Contrasting groups: Livingston SA, Zieky MJ (1982) Passing Scores, ETS (ERIC ED227113). Totals of children known to
/// have the difficulty and of children known not to; low totals speak for it. At least two children in each group.
/// </summary>
public sealed class ContrastingGroups
{
    private readonly double[] _cases;
    private readonly double[] _others;

    public ContrastingGroups(IReadOnlyList<double> cases, IReadOnlyList<double> others)
    {
        Require.AtLeast(cases.Count, 2, "Children with the difficulty");
        Require.AtLeast(others.Count, 2, "Children without it");
        Require.Finite(cases.Concat(others), "Totals");
        (_cases, _others) = ([.. cases], [.. others]);
        (CaseMean, OtherMean) = (Descriptive.Mean(_cases), Descriptive.Mean(_others));
        (CaseDeviation, OtherDeviation) = (
            Descriptive.StandardDeviation(_cases),
            Descriptive.StandardDeviation(_others)
        );
    }

    public double CaseMean { get; }

    public double OtherMean { get; }

    public double CaseDeviation { get; }

    public double OtherDeviation { get; }

    public double MidpointOfMeans => (CaseMean + OtherMean) / 2;

    /// <summary>The point as many SDs above the one mean as below the other.</summary>
    public double WeightedPoint =>
        ((CaseMean * OtherDeviation) + (OtherMean * CaseDeviation)) / (CaseDeviation + OtherDeviation);

    /// <summary>Where two normal curves of equal weight cross between the means; more than one, or none, is possible.</summary>
    public IReadOnlyList<double> NormalIntersections()
    {
        Require.That(
            CaseDeviation > 0 && OtherDeviation > 0,
            "Normal curves need totals that vary in both groups."
        );
        double Gap(double x) =>
            Math.Log(OtherDeviation / CaseDeviation)
            - (Math.Pow((x - CaseMean) / CaseDeviation, 2) / 2)
            + (Math.Pow((x - OtherMean) / OtherDeviation, 2) / 2);
        var (low, high) = (Math.Min(CaseMean, OtherMean), Math.Max(CaseMean, OtherMean));
        var (v, w) = (CaseDeviation * CaseDeviation, OtherDeviation * OtherDeviation);
        var top = (v * OtherMean) - (w * CaseMean); // stationary point of the gap, if the SDs differ
        var middle = v == w ? low : Math.Clamp(top / (v - w), low, high);
        double[] ends = [low, middle, high];
        var roots = new List<double>();
        for (var i = 0; i < 2; i++)
        {
            if (ends[i] < ends[i + 1] && Math.Sign(Gap(ends[i])) != Math.Sign(Gap(ends[i + 1])))
            {
                roots.Add(Bisection.Root(Gap, ends[i], ends[i + 1]));
            }
        }

        return roots;
    }

    /// <summary>Every whole cut from least to most + 1.</summary>
    public IReadOnlyList<ReferralRow> Table(int least, int most) =>
        [.. Enumerable.Range(least, most - least + 2).Select(cut => Row(cut))];

    /// <summary>
    /// Maximum likelihood logistic regression of being a case on the total. Groups that don't overlap have no finite curve.
    /// </summary>
    public LogisticCut Logistic()
    {
        double[] x = [.. _cases, .. _others];
        double[] y = [.. _cases.Select(_ => 1.0), .. _others.Select(_ => 0.0)];
        Require.That(
            _cases.Max() > _others.Min() && _others.Max() > _cases.Min(),
            "The groups don't overlap: any cut between them divides them fully, and a logistic curve has no end."
        );
        var centre = Descriptive.Mean(x);
        var (a, b) = (0.0, 0.0);
        var (vaa, vab, vbb) = (0.0, 0.0, 0.0);
        for (var step = 0; step < 100; step++)
        {
            var (ga, gb, haa, hab, hbb) = (0.0, 0.0, 0.0, 0.0, 0.0);
            for (var i = 0; i < x.Length; i++)
            {
                var t = x[i] - centre;
                var p = 1 / (1 + Math.Exp(-(a + (b * t))));
                ga += y[i] - p;
                gb += (y[i] - p) * t;
                haa += p * (1 - p);
                hab += p * (1 - p) * t;
                hbb += p * (1 - p) * t * t;
            }

            var determinant = (haa * hbb) - (hab * hab);
            Require.That(determinant > 0, "The logistic curve can't be fitted: the totals don't vary.");
            (vaa, vab, vbb) = (hbb / determinant, -hab / determinant, haa / determinant);
            var (da, db) = ((vaa * ga) + (vab * gb), (vab * ga) + (vbb * gb));
            (a, b) = (a + da, b + db);
            if (Math.Abs(da) < 1e-13 * (1 + Math.Abs(a)) && Math.Abs(db) < 1e-13 * Math.Abs(b))
            {
                break;
            }
        }

        Require.That(b != 0, "The logistic curve is flat: the totals don't tell the groups apart.");
        var share = _cases.Length / (double)x.Length;
        var cut = -a / b;
        var error = Math.Sqrt((vaa + (2 * cut * vab) + (cut * cut * vbb)) / (b * b));
        return new LogisticCut(
            a - (b * centre),
            b,
            cut + centre,
            error,
            share,
            cut + centre + (Math.Log(share / (1 - share)) / b)
        );
    }

    private ReferralRow Row(double cut)
    {
        var missed = _cases.Count(c => c >= cut);
        var referred = _others.Count(o => o < cut);
        return new ReferralRow(
            cut,
            missed,
            referred,
            (_cases.Length - missed) / (double)_cases.Length,
            (_others.Length - referred) / (double)_others.Length
        );
    }
}
