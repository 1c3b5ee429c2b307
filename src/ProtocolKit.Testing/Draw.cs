namespace ProtocolKit.Testing;

/// <summary>
/// A stream of numbers that follows from its seed alone, the same on every machine and every run.
/// Source: the SplitMix64 generator of Steele, Lea and Flood, "Fast splittable pseudorandom number
/// generators", OOPSLA 2014 (constants from memory).
/// </summary>
internal sealed class Draw(ulong seed)
{
    private ulong _state = seed;

    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public long Between(long low, long high) => low + (long)(Next() % ((ulong)(high - low) + 1));

    /// <summary>True in <paramref name="times"/> of <paramref name="of"/> cases.</summary>
    public bool Chance(int times, int of) => Between(1, of) <= times;

    public T OneOf<T>(IReadOnlyList<T> items) => items[(int)Between(0, items.Count - 1)];

    private ulong Next()
    {
        _state += 0x9E3779B97F4A7C15;
        var z = _state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
