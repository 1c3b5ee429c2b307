using System.Globalization;

namespace ProtocolKit.Cases;

/// <summary>Writes a number as the fraction it is, where that has small parts: 4/3.</summary>
internal static class Fractions
{
    public static string Text(double value)
    {
        for (var bottom = 1; bottom <= 10000; bottom++)
        {
            var top = Math.Round(value * bottom);
            if (Math.Abs((value * bottom) - top) < 1e-9 * bottom)
            {
                return bottom == 1
                    ? top.ToString(CultureInfo.InvariantCulture)
                    : string.Create(CultureInfo.InvariantCulture, $"{top}/{bottom}");
            }
        }

        return value.ToString("R", CultureInfo.InvariantCulture);
    }
}
