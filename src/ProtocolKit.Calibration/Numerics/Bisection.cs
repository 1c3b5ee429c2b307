namespace ProtocolKit.Calibration.Numerics;

/// <summary>Roots between two bounds by halving, to the last bit: slow, sure, and the same everywhere.</summary>
internal static class Bisection
{
    /// <summary>A root of a function that has different signs at the bounds; its values may be infinite there.</summary>
    /// <exception cref="NotEstimableException">The function has the same sign at both bounds, or no value somewhere between.</exception>
    public static double Root(Func<double, double> function, double low, double high)
    {
        int SignAt(double x)
        {
            var value = function(x);
            Require.That(!double.IsNaN(value), "The method is undefined for these data.");
            return Math.Sign(value);
        }

        var sign = SignAt(low);
        if (sign == 0)
        {
            return low;
        }

        Require.That(SignAt(high) != sign, "The method found no solution between its limits.");
        for (var step = 0; step < 2000; step++)
        {
            var middle = low + ((high - low) / 2);
            if (middle <= low || middle >= high)
            {
                break;
            }

            if (SignAt(middle) == sign)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return low + ((high - low) / 2);
    }
}
