using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Numerics;

/// <summary>
/// The named generator of every bootstrap here: xoshiro256** 1.0, seeded by SplitMix64 from a seed and the number of
/// the resample. Each resample has a stream of its own, so results don't depend on how many threads draw them.
/// Sources: Blackman D, Vigna S (2021) ACM Trans Math Softw 47:36; Steele GL, Lea D, Flood CH (2014) OOPSLA 453-472;
/// whole numbers below a bound by Lemire D (2019) ACM Trans Model Comput Simul 29:3.
/// </summary>
public readonly struct SeededGenerator
{
    private readonly Xoshiro256 _bits;

    public SeededGenerator(ulong seed, ulong stream = 0)
    {
        var state = seed;
        state = Xoshiro256.SplitMix64(ref state) ^ (stream * 0xD1342543DE82EF95UL);
        _bits = new Xoshiro256(state);
    }

    /// <summary>The generator's name, for reports.</summary>
    public static string Name => $"{Xoshiro256.Name}, one stream a resample";

    /// <summary>64 random bits.</summary>
    public ulong Next() => _bits.Next();

    /// <summary>A whole number from 0 to below <paramref name="bound"/>, each equally likely.</summary>
    public int NextBelow(int bound)
    {
        var range = (ulong)bound;
        var high = Math.BigMul(Next(), range, out var low);
        if (low < range)
        {
            var threshold = (0UL - range) % range;
            while (low < threshold)
            {
                high = Math.BigMul(Next(), range, out low);
            }
        }

        return (int)high;
    }

    /// <summary>A number from 0 to below 1 with 53 random bits.</summary>
    public double NextUnit() => (Next() >> 11) * (1.0 / (1UL << 53));
}
