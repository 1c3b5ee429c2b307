namespace ProtocolKit.Proof.Engine;

/// <summary>Rows of numbers are the same where each number is.</summary>
internal sealed class SameRow : IEqualityComparer<long[]>
{
    public static readonly SameRow Instance = new();

    public bool Equals(long[]? x, long[]? y) => x.AsSpan().SequenceEqual(y);

    public int GetHashCode(long[] obj)
    {
        var hash = new HashCode();
        foreach (var value in obj)
        {
            hash.Add(value);
        }

        return hash.ToHashCode();
    }
}
