using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>Rows of bounded numbers, each once, packed into words; a row is found by its content.</summary>
internal sealed class RowTable
{
    private readonly long[] _low;
    private readonly int[] _shift;
    private readonly int[] _word;
    private readonly ulong[] _mask;
    private readonly int _words;
    private ulong[] _rows = new ulong[16];
    private int[] _slots = new int[16];
    private readonly ulong[] _key;
    private long[] _unpacked = [];
    private int _unpackedRows = -1;
    private readonly RowTable? _shared;

    // Beyond so many numbers rows are unpacked one at a time.
    private const int MostUnpacked = 1 << 22;

    public RowTable(IReadOnlyList<Node> columns)
    {
        Columns = columns;
        _low = [.. columns.Select(c => c.Low)];
        (_shift, _word, _mask) = (new int[columns.Count], new int[columns.Count], new ulong[columns.Count]);
        var used = 64;
        for (var i = 0; i < columns.Count; i++)
        {
            var bits = 64 - BitOperations.LeadingZeroCount((ulong)(columns[i].High - columns[i].Low));
            if (used + bits > 64)
            {
                (used, _words) = (0, _words + 1);
            }

            (_shift[i], _word[i], _mask[i]) = (
                used,
                _words - 1,
                bits == 64 ? ulong.MaxValue : (1UL << bits) - 1
            );
            used += bits;
        }

        _words = Math.Max(1, _words);
        _key = new ulong[_words];
    }

    /// <summary>The rows of a finished table under other names.</summary>
    public RowTable(IReadOnlyList<Node> columns, RowTable rows)
    {
        Columns = columns;
        (_low, _shift, _word, _mask, _words) = (rows._low, rows._shift, rows._word, rows._mask, rows._words);
        (_rows, _slots, _key, Count) = (rows._rows, rows._slots, new ulong[rows._words], rows.Count);
        _shared = rows._shared ?? rows;
    }

    public IReadOnlyList<Node> Columns { get; }
    public int Count { get; private set; }

    /// <summary>The number of the row, and whether it is new.</summary>
    /// <param name="registers">Where each column's value stands in the frame.</param>
    public (int Row, bool IsNew) Find(long[] frame, int[] registers)
    {
        Pack(frame, registers);
        return FindKey();
    }

    /// <summary>The number of the row; -1 where it is none.</summary>
    public int RowOf(long[] frame, int[] registers)
    {
        Pack(frame, registers);
        var mask = _slots.Length - 1;
        for (var at = (int)Hash() & mask; _slots[at] != 0; at = (at + 1) & mask)
        {
            if (IsAt(_slots[at] - 1))
            {
                return _slots[at] - 1;
            }
        }

        return -1;
    }

    private void Pack(long[] frame, int[] registers)
    {
        Array.Clear(_key);
        for (var i = 0; i < _low.Length; i++)
        {
            _key[_word[i]] |= (ulong)(frame[registers[i]] - _low[i]) << _shift[i];
        }
    }

    private (int Row, bool IsNew) FindKey()
    {
        var mask = _slots.Length - 1;
        var at = (int)Hash() & mask;
        while (_slots[at] != 0)
        {
            if (IsAt(_slots[at] - 1))
            {
                return (_slots[at] - 1, false);
            }

            at = (at + 1) & mask;
        }

        return (Insert(at), true);
    }

    public void Read(int row, long[] frame, int[] registers)
    {
        var start = row * _words;
        for (var i = 0; i < _low.Length; i++)
        {
            frame[registers[i]] = (long)((_rows[start + _word[i]] >> _shift[i]) & _mask[i]) + _low[i];
        }
    }

    /// <summary>Copies a row to registers that stand one after another. For rows that are read many times.</summary>
    public void Copy(int row, long[] frame, int first)
    {
        if (_shared is not null)
        {
            _shared.Copy(row, frame, first);
            return;
        }

        var width = _low.Length;
        if (_unpackedRows != Count)
        {
            Unpack();
        }

        if ((row + 1) * width <= _unpacked.Length)
        {
            _unpacked.AsSpan(row * width, width).CopyTo(frame.AsSpan(first));
            return;
        }

        for (var i = 0; i < width; i++)
        {
            frame[first + i] = Value(row, i);
        }
    }

    private void Unpack()
    {
        var (rows, width) = (Math.Min(Count, MostUnpacked / Math.Max(1, _low.Length)), _low.Length);
        _unpacked = new long[rows * width];
        for (var i = 0; i < _unpacked.Length; i++)
        {
            _unpacked[i] = Value(i / width, i % width);
        }

        _unpackedRows = Count;
    }

    public long Value(int row, int column) =>
        (long)((_rows[(row * _words) + _word[column]] >> _shift[column]) & _mask[column]) + _low[column];

    /// <exception cref="InvalidOperationException">The table has no such column.</exception>
    public int ColumnOf(Node node)
    {
        for (var i = 0; i < Columns.Count; i++)
        {
            if (Columns[i] == node)
            {
                return i;
            }
        }

        throw new InvalidOperationException($"{node} was lost on its way.");
    }

    /// <summary>Where a row of another table of the same columns stands here; it must be among the rows.</summary>
    public int IndexOf(RowTable other, int row)
    {
        var frame = new long[Columns.Count];
        for (var i = 0; i < frame.Length; i++)
        {
            frame[i] = other.Value(row, other.ColumnOf(Columns[i]));
        }

        return RowOf(frame, [.. Enumerable.Range(0, frame.Length)]);
    }

    /// <summary>Some of the rows, in the order given.</summary>
    public RowTable Only(IReadOnlyList<int> rows)
    {
        var only = new RowTable(Columns);
        foreach (var row in rows)
        {
            Array.Copy(_rows, row * _words, only._key, 0, _words);
            only.FindKey();
        }

        return only;
    }

    /// <summary>The same rows in another order.</summary>
    public void Reorder(int[] order)
    {
        var rows = new ulong[Math.Max(64, Count * _words)];
        for (var i = 0; i < Count; i++)
        {
            Array.Copy(_rows, order[i] * _words, rows, i * _words, _words);
        }

        _rows = rows;
        _slots = [];
        _unpackedRows = -1;
    }

    private int Insert(int slot)
    {
        if ((Count + 1) * _words > _rows.Length)
        {
            Array.Resize(ref _rows, Math.Max((Count + 1) * _words, _rows.Length * 2));
        }

        Array.Copy(_key, 0, _rows, Count * _words, _words);
        _slots[slot] = ++Count;
        if (Count * 2 > _slots.Length)
        {
            Grow();
        }

        return Count - 1;
    }

    private void Grow()
    {
        _slots = new int[_slots.Length * 2];
        var mask = _slots.Length - 1;
        for (var row = 0; row < Count; row++)
        {
            Array.Copy(_rows, row * _words, _key, 0, _words);
            var at = (int)Hash() & mask;
            while (_slots[at] != 0)
            {
                at = (at + 1) & mask;
            }

            _slots[at] = row + 1;
        }
    }

    private bool IsAt(int row)
    {
        var start = row * _words;
        for (var i = 0; i < _words; i++)
        {
            if (_rows[start + i] != _key[i])
            {
                return false;
            }
        }

        return true;
    }

    private ulong Hash()
    {
        var hash = 0UL;
        foreach (var word in _key)
        {
            hash = (hash ^ word) * 0x9E3779B97F4A7C15;
            hash ^= hash >> 32;
        }

        return hash;
    }
}
