namespace ProtocolKit.PilotGenerator;

/// <summary>
/// Chance that follows from a seed and from what it is asked for: every quantity has a stream of its own, named by
/// words, so that a new task in the protocol leaves the draws of all others as they were. SplitMix64 (Steele, Lea and
/// Flood, OOPSLA 2014, constants from memory) after an FNV-1a hash (Fowler, Noll, Vo; constants from memory).
/// </summary>
public sealed class Dice
{
    private ulong _state;

    private Dice(ulong state) => _state = state;

    public static Dice For(ulong seed, params ReadOnlySpan<string> words)
    {
        var hash = 0xCBF29CE484222325 ^ seed;
        foreach (var word in words)
        {
            foreach (var c in word)
            {
                hash = (hash ^ c) * 0x100000001B3;
            }

            hash = (hash ^ '|') * 0x100000001B3;
        }

        return new Dice(hash);
    }

    /// <summary>Evenly from 0 up to, but not including, 1.</summary>
    public double Even() => (Next() >> 11) * (1.0 / (1UL << 53));

    public bool Chance(double p) => Even() < p;

    public int Below(int count) => (int)(Even() * count);

    /// <summary>Normal with mean 0. Source: Box and Muller, Ann Math Stat 29 (1958) 610-611.</summary>
    public double Normal(double deviation = 1)
    {
        var radius = Math.Sqrt(-2 * Math.Log(1 - Even()));
        return deviation * radius * Math.Cos(2 * Math.PI * Even());
    }

    /// <summary>An index with chances in proportion to the weights.</summary>
    public int Weighted(IReadOnlyList<double> weights)
    {
        var left = Even() * weights.Sum();
        for (var i = 0; i < weights.Count; i++)
        {
            left -= weights[i];
            if (left < 0)
            {
                return i;
            }
        }

        return weights.Count - 1;
    }

    private ulong Next()
    {
        _state += 0x9E3779B97F4A7C15;
        var z = _state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
