using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>The two-way table of squares behind the intraclass correlations.</summary>
public sealed record RatingAnova(
    int Targets,
    int Judges,
    double GrandMean,
    double SumBetween,
    double SumJudges,
    double SumError,
    double SumWithin
)
{
    public double MeanBetween => SumBetween / (Targets - 1);

    public double MeanJudges => SumJudges / (Judges - 1);

    public double MeanError => SumError / ((Targets - 1) * (Judges - 1));

    public double MeanWithin => SumWithin / (Targets * (Judges - 1));

    /// <summary>(MSB − MSE)/k; may be negative.</summary>
    public double TargetVariance => (MeanBetween - MeanError) / Judges;

    /// <summary>(MSJ − MSE)/n; may be negative.</summary>
    public double JudgeVariance => (MeanJudges - MeanError) / Targets;
}

/// <summary>One form of the intraclass correlation.</summary>
/// <param name="Name">As Shrout and Fleiss write it.</param>
/// <param name="McGrawWong">As McGraw and Wong write it.</param>
/// <param name="F">Infinite where raters agree completely.</param>
/// <param name="Interval">Null where the F statistic is infinite.</param>
public sealed record IccForm(
    string Name,
    string McGrawWong,
    double Icc,
    double F,
    double Df1,
    double Df2,
    double P,
    Interval? Interval
);

/// <summary>All six forms over one table.</summary>
/// <param name="SatterthwaiteDf">Denominator degrees of freedom of the agreement interval; null where not defined.</param>
public sealed record IccResult(RatingAnova Anova, IReadOnlyList<IccForm> Forms, double? SatterthwaiteDf)
{
    /// <summary>A form by either of its names; the number of raters may be written out or as k.</summary>
    public IccForm this[string name] =>
        Forms.FirstOrDefault(f => f.Name == name || f.McGrawWong == name)
        ?? throw new NotEstimableException(
            $"There is no form of the intraclass correlation called \"{name}\"."
        );

    /// <summary>√(judge + residual variance): the standard error of measurement when raters differ (negative variance counts as 0).</summary>
    public double AgreementError => Math.Sqrt(Math.Max(0, Anova.JudgeVariance) + Anova.MeanError);

    /// <summary>√MSE: the standard error of measurement with rater differences taken out.</summary>
    public double ConsistencyError => Math.Sqrt(Anova.MeanError);
}

/// <summary>
/// Intraclass correlations of complete tables from mean squares, with F-based intervals. Sources: Shrout PE, Fleiss JL
/// (1979) Psychological Bulletin 86:420-428; McGraw KO, Wong SP (1996) Psychological Methods 1:30-46, erratum 1:390.
/// Their ten forms have six values: random or fixed raters change the reading, not the arithmetic. Rows with a missing
/// rating must be left out first (<see cref="RatingMatrix.CompleteRows"/>), or use <see cref="CrossedVariance"/>.
/// </summary>
public static class IntraclassCorrelation
{
    /// <summary>A row each target, a column each judge; complete; at least two of each.</summary>
    /// <exception cref="NotEstimableException">Missing ratings, too few rows or columns, or no variance at all.</exception>
    public static IccResult Of(RatingMatrix ratings, double confidence = 0.95)
    {
        Require.Level(confidence);
        var anova = Anova(ratings);
        Require.That(
            anova.SumBetween + anova.SumWithin > 0,
            "The intraclass correlation can't be estimated: all ratings are the same (0/0)."
        );
        var tail = (1 + confidence) / 2;
        var (one, df) = (OneWay(anova, tail), Satterthwaite(anova));
        var agreement = Agreement(anova, tail, df);
        var consistency = Consistency(anova, tail);
        return new IccResult(
            anova,
            [one.Single, agreement.Single, consistency.Single, one.Mean, agreement.Mean, consistency.Mean],
            df
        );
    }

    /// <summary>The table of squares of a complete matrix.</summary>
    public static RatingAnova Anova(RatingMatrix ratings)
    {
        Require.AtLeast(ratings.Subjects, 2, "Subjects rated by every rater");
        Require.AtLeast(ratings.Raters, 2, "Raters");
        var cells = ratings.Cells();
        var (n, k) = (ratings.Subjects, ratings.Raters);
        var grand = Sum(cells) / cells.Length;
        var columns = new double[k];
        var (between, total) = (0.0, 0.0);
        for (var s = 0; s < n; s++)
        {
            var row = cells.Slice(s * k, k);
            var sum = 0.0;
            for (var r = 0; r < k; r++)
            {
                var deviation = row[r] - grand;
                sum += deviation;
                columns[r] += deviation;
                total += deviation * deviation;
            }

            between += sum * sum;
        }

        between /= k;
        var judges = columns.Sum(c => c * c) / n;

        // Differences of equal sums leave dust; what is below the arithmetic's own error is nothing.
        var dust = total * 1e-14;
        var within = Clean(total - between, dust);
        return new RatingAnova(
            n,
            k,
            grand,
            Clean(between, dust),
            Clean(judges, dust),
            Clean(within - judges, dust),
            within
        );
    }

    private static (IccForm Single, IccForm Mean) OneWay(RatingAnova a, double tail)
    {
        var (df1, df2) = (a.Targets - 1.0, a.Targets * (a.Judges - 1.0));
        var single = (a.MeanBetween - a.MeanWithin) / (a.MeanBetween + ((a.Judges - 1) * a.MeanWithin));
        return Forms(
            "ICC(1,1)",
            "ICC(1)",
            "ICC(1,k)",
            "ICC(k)",
            single,
            MeanOf(a, a.MeanWithin),
            Ratio(a.MeanBetween, a.MeanWithin),
            df1,
            df2,
            a.Judges,
            tail
        );
    }

    private static (IccForm Single, IccForm Mean) Consistency(RatingAnova a, double tail)
    {
        var (df1, df2) = (a.Targets - 1.0, (a.Targets - 1.0) * (a.Judges - 1.0));
        var single = (a.MeanBetween - a.MeanError) / (a.MeanBetween + ((a.Judges - 1) * a.MeanError));
        return Forms(
            "ICC(3,1)",
            "ICC(C,1)",
            "ICC(3,k)",
            "ICC(C,k)",
            single,
            MeanOf(a, a.MeanError),
            Ratio(a.MeanBetween, a.MeanError),
            df1,
            df2,
            a.Judges,
            tail
        );
    }

    private static (IccForm Single, IccForm Mean) Forms(
        string name,
        string other,
        string meanName,
        string meanOther,
        double single,
        double? mean,
        double f,
        double df1,
        double df2,
        int k,
        double tail
    )
    {
        Interval? interval = null;
        Interval? meanInterval = null;
        if (double.IsFinite(f))
        {
            var low = f / Distributions.FisherQuantile(tail, df1, df2);
            var high = f * Distributions.FisherQuantile(tail, df2, df1);
            interval = new Interval((low - 1) / (low + k - 1), (high - 1) / (high + k - 1));
            meanInterval = low > 0 ? new Interval(1 - (1 / low), 1 - (1 / high)) : null;
        }

        var p = Distributions.FisherUpper(f, df1, df2);
        return (
            new IccForm(name, other, single, f, df1, df2, p, interval),
            new IccForm(meanName, meanOther, mean ?? double.NegativeInfinity, f, df1, df2, p, meanInterval)
        );
    }

    private static (IccForm Single, IccForm Mean) Agreement(RatingAnova a, double tail, double? df)
    {
        double n = a.Targets;
        double k = a.Judges;
        var single = (a.MeanBetween - a.MeanError) / Denominator(a);
        var mean = (a.MeanBetween - a.MeanError) / (a.MeanBetween + ((a.MeanJudges - a.MeanError) / n));
        var f = Ratio(a.MeanBetween, a.MeanError);
        var (df1, df2) = (n - 1, (n - 1) * (k - 1));
        Interval? interval = null;
        if (df is { } v)
        {
            var upper = Distributions.FisherQuantile(tail, n - 1, v);
            var lower = Distributions.FisherQuantile(tail, v, n - 1);
            var spread = (k * a.MeanJudges) + (((k * n) - k - n) * a.MeanError);
            interval = new Interval(
                n * (a.MeanBetween - (upper * a.MeanError)) / ((upper * spread) + (n * a.MeanBetween)),
                n * ((lower * a.MeanBetween) - a.MeanError) / (spread + (n * lower * a.MeanBetween))
            );
        }

        var p = Distributions.FisherUpper(f, df1, df2);
        return (
            new IccForm("ICC(2,1)", "ICC(A,1)", single, f, df1, df2, p, interval),
            new IccForm(
                "ICC(2,k)",
                "ICC(A,k)",
                mean,
                f,
                df1,
                df2,
                p,
                interval?.Map(l => l * k / (1 + (l * (k - 1))))
            )
        );
    }

    private static double? Satterthwaite(RatingAnova a)
    {
        if (a.MeanError <= 0)
        {
            return null;
        }

        double n = a.Targets;
        double k = a.Judges;
        var icc = (a.MeanBetween - a.MeanError) / Denominator(a);
        var judges = a.MeanJudges / a.MeanError;
        var rest = (n * (1 + ((k - 1) * icc))) - (k * icc);
        var top = (k - 1) * (n - 1) * Math.Pow((k * icc * judges) + rest, 2);
        return top / (((n - 1) * k * k * icc * icc * judges * judges) + (rest * rest));
    }

    private static double Denominator(RatingAnova a) =>
        a.MeanBetween
        + ((a.Judges - 1) * a.MeanError)
        + ((double)a.Judges / a.Targets * (a.MeanJudges - a.MeanError));

    private static double? MeanOf(RatingAnova a, double error) =>
        a.MeanBetween > 0 ? (a.MeanBetween - error) / a.MeanBetween : null;

    private static double Ratio(double top, double bottom) =>
        bottom > 0 ? top / bottom : double.PositiveInfinity;

    private static double Clean(double value, double dust) => Math.Abs(value) <= dust ? 0 : value;

    private static double Sum(ReadOnlySpan<double> cells)
    {
        var sum = 0.0;
        foreach (var cell in cells)
        {
            sum += cell;
        }

        return sum;
    }
}
