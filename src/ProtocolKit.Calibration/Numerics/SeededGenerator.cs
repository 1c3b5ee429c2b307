using System.Numerics;

namespace ProtocolKit.Calibration.Numerics;

/// <summary>
/// The named generator of every bootstrap here: xoshiro256** 1.0, seeded by SplitMix64 from a seed and the number of
/// the resample. Each resample has a stream of its own, so results don't depend on how many threads draw them.
/// Sources: Blackman D, Vigna S (2021) ACM Trans Math Softw 47:36; Steele GL, Lea D, Flood CH (2014) OOPSLA 453-472;
/// whole numbers below a bound by Lemire D (2019) ACM Trans Model Comput Simul 29:3.
/// </summary>
public struct SeededGenerator
{
    private ulong _a;
    private ulong _b;
    private ulong _c;
    private ulong _d;

    public SeededGenerator(ulong seed, ulong stream = 0)
    {
        var state = seed;
        state = Mix(ref state) ^ (stream * 0xD1342543DE82EF95UL);
        _a = Mix(ref state);
        _b = Mix(ref state);
        _c = Mix(ref state);
        _d = Mix(ref state);
    }

    /// <summary>The generator's name, for reports.</summary>
    public static string Name => "xoshiro256** seeded by SplitMix64, one stream a resample";

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

    private static ulong Mix(ref ulong state)
    {
        state += 0x9E3779B97F4A7C15UL;
        var z = state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
        return z ^ (z >> 31);
    }
}
