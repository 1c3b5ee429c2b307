using System.Numerics;
using System.Runtime.CompilerServices;

namespace ProtocolKit.Scoring.Batch;

/// <summary>What of <see cref="Lanes"/> takes more than one instruction.</summary>
internal static class LaneMath
{
    /// <summary>From here on a whole number no longer stands in the digits of a double as it is.</summary>
    public const long FewestTooLarge = 1L << 52;

    /// <summary>The bits of 2^52 as a double: a smaller whole number put into them is that number above 2^52.</summary>
    private const long Digits = 0x4330000000000000;

    /// <summary>
    /// The whole part of a quotient of numbers from 0 and from 1 to below 2^52. It is exact in doubles: a quotient that isn't
    /// whole is at least 1/divisor below the next whole number, and half a step of a double there is less.
    /// </summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static Vector<long> DivideSmall(Vector<long> dividend, Vector<long> divisor)
    {
        var quotient = Vector.Floor(Double(dividend) / Double(divisor));
        return Vector.AsVectorInt64(quotient + Vector.Create((double)FewestTooLarge)) ^ Vector.Create(Digits);
    }

    /// <summary>The whole part of a quotient, lane by lane.</summary>
    public static Vector<long> Divide(Vector<long> dividend, Vector<long> divisor)
    {
        Span<long> quotients = stackalloc long[Lanes.Count];
        for (var i = 0; i < quotients.Length; i++)
        {
            quotients[i] = divisor[i] < 1 ? 0 : dividend[i] / divisor[i];
        }

        return new Vector<long>(quotients);
    }

    /// <summary>Values of a table whose first stands for <paramref name="low"/>.</summary>
    public static Vector<long> Lookup(long[] table, long low, Vector<long> subject)
    {
        Span<long> values = stackalloc long[Lanes.Count];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = table[Math.Clamp(subject[i] - low, 0, table.Length - 1)];
        }

        return new Vector<long>(values);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector<double> Double(Vector<long> small) =>
        Vector.AsVectorDouble(small | Vector.Create(Digits)) - Vector.Create((double)FewestTooLarge);
}
