namespace ProtocolKit.Calibration.Numerics;

/// <summary>
/// The quantile of a distribution on positive numbers: first its logarithm by halving, as it may be 1e-200 or 1e+200, then
/// Newton steps to the last digits. Slow and sure: no start value that could be wrong.
/// </summary>
internal static class PositiveQuantile
{
    private const double Widest = 700; // e^700 is the order of the largest double

    /// <summary>The x at which <paramref name="excess"/>, rising in x, is zero.</summary>
    /// <param name="excess">The distribution function less the probability, or the smaller tail for it.</param>
    /// <param name="density">The derivative of <paramref name="excess"/>.</param>
    public static double Of(
        Func<double, double> excess,
        Func<double, double> density,
        double most = double.PositiveInfinity
    )
    {
        var (low, high) = (-Widest, Math.Min(Widest, Math.Log(most)));
        for (var step = 0; step < 40; step++)
        {
            var middle = (low + high) / 2;
            (low, high) = excess(Math.Exp(middle)) < 0 ? (middle, high) : (low, middle);
        }

        var x = Math.Exp((low + high) / 2);
        for (var step = 0; step < 20; step++)
        {
            var next = x - (excess(x) / density(x));
            if (!double.IsFinite(next) || next <= 0 || Math.Abs(next - x) > x / 1000)
            {
                return x;
            }

            if (Math.Abs(next - x) <= 1e-15 * x)
            {
                return next;
            }

            x = next;
        }

        return x;
    }
}
