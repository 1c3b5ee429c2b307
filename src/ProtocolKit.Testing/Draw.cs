using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>A stream of numbers that follows from its seed alone, the same on every machine and every run.</summary>
internal sealed class Draw(ulong seed)
{
    private readonly Xoshiro256 _generator = new(seed);

    /// <summary>A whole number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public long Between(long low, long high) => _generator.Between(low, high);

    /// <summary>True in <paramref name="times"/> of <paramref name="of"/> cases.</summary>
    public bool Chance(int times, int of) => Between(1, of) <= times;

    public T OneOf<T>(IReadOnlyList<T> items) => _generator.OneOf(items);
}
