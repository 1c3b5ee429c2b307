using System.Globalization;
using System.Numerics;

namespace ProtocolKit.Workspace;

/// <summary>Numbers of records, which may have hundreds of digits.</summary>
public static class LargeNumber
{
    /// <summary>In full up to a million, else two digits and the power of ten.</summary>
    public static string Words(BigInteger number)
    {
        if (number < 1_000_000)
        {
            return number.ToString("#,0", CultureInfo.InvariantCulture);
        }

        var digits = number.ToString(CultureInfo.InvariantCulture);
        return $"about {digits[0]}.{digits[1]} × 10^{(digits.Length - 1).ToString(CultureInfo.InvariantCulture)}";
    }
}
