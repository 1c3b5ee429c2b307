using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Calibration.Norms;

/// <summary>Scales of the normal curve. z = 0 is the norm group's mean.</summary>
public static class StandardScores
{
    /// <summary>Percent of the normal curve below z.</summary>
    public static double Percentile(double z) => 100 * Distributions.NormalCdf(z);

    /// <summary>z below which a percentage of the normal curve lies.</summary>
    public static double FromPercentile(double percentile) => Distributions.NormalQuantile(percentile / 100);

    /// <summary>Mean 50, SD 10.</summary>
    public static double T(double z) => 50 + (10 * z);

    /// <summary>Mean 100, SD 15.</summary>
    public static double Deviation(double z) => 100 + (15 * z);

    /// <summary>Mean 10, SD 3.</summary>
    public static double Scaled(double z) => 10 + (3 * z);

    /// <summary>Mean 5.5, SD 2, not rounded.</summary>
    public static double Sten(double z) => 5.5 + (2 * z);

    /// <summary>1 to 9 in half SDs; z exactly on a boundary goes up.</summary>
    public static int Stanine(double z) => (int)Math.Clamp(Math.Floor((2 * z) + 5.5), 1, 9);

    /// <summary>Nominal percentages of stanines 1 to 9.</summary>
    public static readonly IReadOnlyList<int> StaninePercent = [4, 7, 12, 17, 20, 17, 12, 7, 4];
}

/// <summary>One child against a small norm sample.</summary>
public sealed record SingleCaseResult(double T, int Df, double POneTailed, double Z, double NaivePercentBelow)
{
    /// <summary>Estimated percentage of the norm population below the child.</summary>
    public double PercentBelow => T < 0 ? 100 * POneTailed : 100 * (1 - POneTailed);
}

/// <summary>Crawford JR, Howell DC (1998) Clin Neuropsychol 12:482-486: t = (x − mean) / (s√((n + 1)/n)), n − 1 df.</summary>
public static class SingleCase
{
    public static SingleCaseResult Of(double score, double mean, double deviation, int count)
    {
        Require.AtLeast(count, 2, "Children in the norm sample");
        Require.That(deviation > 0, "The norm sample doesn't vary.");
        var t = (score - mean) / (deviation * Math.Sqrt((count + 1.0) / count));
        var z = (score - mean) / deviation;
        return new SingleCaseResult(
            t,
            count - 1,
            Distributions.StudentUpper(Math.Abs(t), count - 1),
            z,
            100 * Distributions.NormalCdf(z)
        );
    }
}

/// <summary>The LMS method: Cole TJ, Green PJ (1992) Stat Med 11:1305-1319. S above 0, M and x above 0.</summary>
public sealed record Lms(double L, double M, double S)
{
    /// <summary>((x/M)^L − 1)/(LS), or ln(x/M)/S at L = 0.</summary>
    public double Z(double x)
    {
        Require.That(x > 0 && M > 0 && S > 0, "LMS needs a measurement, median and variation above 0.");
        return Math.Abs(L) < 1e-12 ? Math.Log(x / M) / S : (Math.Pow(x / M, L) - 1) / (L * S);
    }

    /// <summary>As the WHO does beyond 3 SD: on in steps of the distance between 2 and 3 SD.</summary>
    public double ZRestricted(double x)
    {
        var z = Z(x);
        return z > 3 ? 3 + ((x - At(3)) / (At(3) - At(2)))
            : z < -3 ? -3 + ((x - At(-3)) / (At(-2) - At(-3)))
            : z;
    }

    /// <summary>The measurement at z.</summary>
    public double At(double z)
    {
        if (Math.Abs(L) < 1e-12)
        {
            return M * Math.Exp(S * z);
        }

        var inner = 1 + (L * S * z);
        Require.That(inner > 0, "There is no measurement at this z: the LMS curve ends before it.");
        return M * Math.Pow(inner, 1 / L);
    }
}
