using System.Numerics;

namespace ProtocolKit.Model;

/// <summary>
/// The named generator of everything that is drawn here: xoshiro256** 1.0, its state filled by SplitMix64 from a seed. What it
/// gives follows from the seed alone, on every machine.
/// Sources: Blackman D, Vigna S (2021) "Scrambled linear pseudorandom number generators", ACM Trans Math Softw 47:36;
/// Steele GL, Lea D, Flood CH (2014) "Fast splittable pseudorandom number generators", OOPSLA, 453-472.
/// </summary>
public sealed class Xoshiro256
{
    private ulong _a;
    private ulong _b;
    private ulong _c;
    private ulong _d;

    /// <param name="seed">Any number.</param>
    public Xoshiro256(ulong seed)
    {
        var state = seed;
        (_a, _b, _c, _d) = (
            SplitMix64(ref state),
            SplitMix64(ref state),
            SplitMix64(ref state),
            SplitMix64(ref state)
        );
    }

    /// <summary>The generator in a state of its own, not all zero: for comparing with published outputs.</summary>
    public Xoshiro256(ulong a, ulong b, ulong c, ulong d)
    {
        if ((a | b | c | d) == 0)
        {
            throw new ArgumentException("A state of zeros gives zeros for ever.", nameof(a));
        }

        (_a, _b, _c, _d) = (a, b, c, d);
    }

    /// <summary>The generator's name, for reports.</summary>
    public static string Name => "xoshiro256** seeded by SplitMix64";

    /// <summary>64 random bits.</summary>
    public ulong Next()
    {
        var result = BitOperations.RotateLeft(_b * 5, 7) * 9;
        var shifted = _b << 17;
        _c ^= _a;
        _d ^= _b;
        _b ^= _c;
        _a ^= _d;
        _c ^= shifted;
        _d = BitOperations.RotateLeft(_d, 45);
        return result;
    }

    /// <summary>A whole number from 0 to below <paramref name="bound"/>, each equally likely, however large the bound.</summary>
    /// <remarks>
    /// As many bits as the largest number has, drawn anew while they are beyond it: on average fewer than two draws, and no
    /// number is favoured as it would be by a remainder.
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException">The bound is below 1.</exception>
    public BigInteger Below(BigInteger bound)
    {
        if (bound.Sign <= 0)
        {
            throw new ArgumentOutOfRangeException(nameof(bound), "There is no number from 0 to below it.");
        }

        if (bound <= ulong.MaxValue)
        {
            return Below((ulong)bound);
        }

        var bits = (int)(bound - 1).GetBitLength();
        while (true)
        {
            var drawn = BigInteger.Zero;
            for (var left = bits; left > 0; left -= 64)
            {
                var word = left >= 64 ? Next() : Next() >> (64 - left);
                drawn = (drawn << Math.Min(64, left)) | word;
            }

            if (drawn < bound)
            {
                return drawn;
            }
        }
    }

    /// <inheritdoc cref="Below(BigInteger)"/>
    public ulong Below(ulong bound)
    {
        ArgumentOutOfRangeException.ThrowIfZero(bound);
        var unused = BitOperations.LeadingZeroCount(bound - 1);
        while (true)
        {
            var drawn = unused == 64 ? 0 : Next() >> unused;
            if (drawn < bound)
            {
                return drawn;
            }
        }
    }

    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included, each equally likely.</summary>
    public long Between(long low, long high)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(high, low);
        var range = (ulong)(high - low);
        return range == ulong.MaxValue ? (long)Next() : low + (long)Below(range + 1);
    }

    /// <summary>One of some items, each equally likely.</summary>
    public T OneOf<T>(IReadOnlyList<T> items)
    {
        ArgumentNullException.ThrowIfNull(items);
        return items[(int)Below((ulong)items.Count)];
    }

    /// <summary>The items in a random order, each order equally likely (Fisher and Yates).</summary>
    public IReadOnlyList<T> Shuffle<T>(IEnumerable<T> items)
    {
        var shuffled = items.ToArray();
        for (var i = shuffled.Length - 1; i > 0; i--)
        {
            var other = (int)Below((ulong)i + 1);
            (shuffled[i], shuffled[other]) = (shuffled[other], shuffled[i]);
        }

        return shuffled;
    }

    /// <summary>The generator that fills the state: one step and its 64 bits.</summary>
    public static ulong SplitMix64(ref ulong state)
    {
        state += 0x9E3779B97F4A7C15UL;
        var z = state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
