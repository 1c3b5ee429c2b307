using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>A sum that is still added to: a digit of a bit's place.</summary>
/// <param name="Node">What it is by now.</param>
/// <param name="Stride">By how much the place grows with one more.</param>
/// <param name="Width">How many values it takes at most until it is read.</param>
/// <param name="Unit">Every value is its lower limit and so many of these.</param>
internal sealed record Register(Node Node, long Stride, long Width, long Unit);

/// <summary>
/// All values some nodes take together after a step: for each combination of the narrow ones a set of the wide ones, one bit for each
/// combination of registers. Adding to a register moves the whole set at once.
/// </summary>
internal sealed class SetState
{
    /// <summary>64 MB of bits.</summary>
    public const long MostWords = 1L << 23;

    private readonly int _words;
    private ulong[] _bits = [];
    private int[] _used = [];

    /// <param name="registers">Their strides stand from 1 upwards, each the product of the widths before it.</param>
    /// <exception cref="ProofLimitException">One set alone is too large.</exception>
    public SetState(IReadOnlyList<Node> columns, IReadOnlyList<Register> registers)
    {
        (Rows, Registers) = (new RowTable(columns), registers);
        var places = registers.Count == 0 ? 1 : registers[^1].Stride * registers[^1].Width;
        if (places > MostWords * 64)
        {
            throw TooLarge();
        }

        _words = (int)((places + 63) / 64);
    }

    /// <summary>Rows alone, without registers.</summary>
    public SetState(RowTable rows) => (Rows, Registers, _words) = (rows, [], 1);

    /// <summary>The narrow values.</summary>
    public RowTable Rows { get; }
    public IReadOnlyList<Register> Registers { get; }

    /// <summary>Words that hold anything in a row's set: a measure of the work it makes.</summary>
    public int Used(int row) => Registers.Count == 0 ? 1 : _used[row];

    /// <summary>One combination more.</summary>
    public void Set(long[] frame, int[] columns, long place)
    {
        if (Registers.Count == 0)
        {
            Rows.Find(frame, columns);
            return;
        }

        var row = Find(frame, columns);
        var word = (int)(place >> 6);
        _bits[((long)row * _words) + word] |= 1UL << (int)place;
        _used[row] = Math.Max(_used[row], word + 1);
    }

    /// <summary>All combinations of a row of another state, each moved by as many places.</summary>
    public void Add(long[] frame, int[] columns, SetState from, int fromRow, long by)
    {
        if (from.Registers.Count == 0)
        {
            Set(frame, columns, by);
            return;
        }

        var row = Find(frame, columns);
        var source = from._bits.AsSpan((int)((long)fromRow * from._words), from._used[fromRow]);
        var (word, bit) = ((int)(by >> 6), (int)by & 63);
        var into = _bits.AsSpan((int)((long)row * _words), _words)[word..];
        if (bit == 0)
        {
            for (var i = 0; i < source.Length; i++)
            {
                into[i] |= source[i];
            }
        }
        else
        {
            var carry = 0UL;
            for (var i = 0; i < source.Length; i++)
            {
                into[i] |= (source[i] << bit) | carry;
                carry = source[i] >> (64 - bit);
            }

            if (carry != 0)
            {
                into[source.Length] |= carry;
                word++;
            }
        }

        _used[row] = Math.Max(_used[row], source.Length + word);
    }

    /// <summary>How much room all sets take, in words.</summary>
    public long Words => Registers.Count == 0 ? Rows.Count : (long)Rows.Count * _words;

    /// <summary>Whether a place is in a row's set.</summary>
    public bool Holds(int row, long place) =>
        Registers.Count == 0
            ? place == 0
            : place >= 0
                && place < _used[row] * 64L
                && (_bits[((long)row * _words) + (place >> 6)] >> (int)place & 1) == 1;

    /// <summary>Every place of a row's set, ascending.</summary>
    public IEnumerable<long> Places(int row) => Registers.Count == 0 ? [0] : PlacesOf(row);

    private IEnumerable<long> PlacesOf(int row)
    {
        var start = (long)row * _words;
        for (var i = 0; i < _used[row]; i++)
        {
            for (var rest = _bits[start + i]; rest != 0; rest &= rest - 1)
            {
                yield return ((long)i << 6) + BitOperations.TrailingZeroCount(rest);
            }
        }
    }

    private int Find(long[] frame, int[] columns)
    {
        var (row, isNew) = Rows.Find(frame, columns);
        if (isNew)
        {
            var needed = (long)Rows.Count * _words;
            if (needed > MostWords)
            {
                throw TooLarge();
            }

            if (needed > _bits.Length)
            {
                Array.Resize(ref _bits, (int)Math.Min(MostWords, Math.Max(needed, 2L * _bits.Length)));
            }

            if (row >= _used.Length)
            {
                Array.Resize(ref _used, Math.Max(16, 2 * _used.Length));
            }
        }

        return row;
    }

    private static ProofLimitException TooLarge() => new("there are too many different values to keep apart");
}
