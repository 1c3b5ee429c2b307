using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>A set of parts of the sheet, as bits.</summary>
internal sealed class LeafSet(int leaves)
{
    private readonly ulong[] _bits = new ulong[(leaves + 63) / 64];

    public void Add(int leaf) => _bits[leaf >> 6] |= 1UL << leaf;

    public void Add(LeafSet other)
    {
        for (var i = 0; i < _bits.Length; i++)
        {
            _bits[i] |= other._bits[i];
        }
    }

    public void Remove(LeafSet other)
    {
        for (var i = 0; i < _bits.Length; i++)
        {
            _bits[i] &= ~other._bits[i];
        }
    }

    public bool Overlaps(LeafSet other)
    {
        for (var i = 0; i < _bits.Length; i++)
        {
            if ((_bits[i] & other._bits[i]) != 0)
            {
                return true;
            }
        }

        return false;
    }

    public bool IsWithin(LeafSet other)
    {
        for (var i = 0; i < _bits.Length; i++)
        {
            if ((_bits[i] & ~other._bits[i]) != 0)
            {
                return false;
            }
        }

        return true;
    }

    public int Count => _bits.Sum(b => BitOperations.PopCount(b));

    public IEnumerable<int> Leaves()
    {
        for (var i = 0; i < _bits.Length; i++)
        {
            for (var rest = _bits[i]; rest != 0; rest &= rest - 1)
            {
                yield return (i << 6) + BitOperations.TrailingZeroCount(rest);
            }
        }
    }
}
