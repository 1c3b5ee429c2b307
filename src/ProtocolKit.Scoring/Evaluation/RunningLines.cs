using System.Runtime.CompilerServices;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// A program's lines beside fields that change a few at a time: of each change, only the lines that it reaches are worked out again.
/// What they come to is what <see cref="Evaluator.Run(ScoringProgram, IReadOnlyList{long})"/> gives.
/// </summary>
public sealed class RunningLines
{
    private static readonly ConditionalWeakTable<ScoringProgram, LineReaders> Known = [];

    private readonly ScoringProgram _program;
    private readonly LineReaders _readers;
    private readonly long[] _fields;
    private readonly long[] _lines;
    private readonly PriorityQueue<int, int> _open = new();
    private readonly HashSet<int> _isOpen = [];

    /// <param name="program">A checked program.</param>
    /// <param name="fields">One value a field; changed with the record from here on.</param>
    /// <param name="count">How many lines are kept, from the first on.</param>
    /// <exception cref="ArgumentException">As <see cref="Evaluator"/> says.</exception>
    public RunningLines(ScoringProgram program, long[] fields, int count)
    {
        (_program, _fields) = (program, fields);
        _lines = Evaluator.Run(program, fields, count);
        _readers = Known.GetValue(program, LineReaders.Of);
    }

    /// <param name="fields">One value a field; changed with the record from here on.</param>
    /// <param name="lines">All lines of that record; not changed.</param>
    public RunningLines(ScoringProgram program, long[] fields, IReadOnlyList<long> lines)
    {
        (_program, _fields, _lines) = (program, fields, [.. lines]);
        _readers = Known.GetValue(program, LineReaders.Of);
    }

    /// <summary>The value of a line, after all changes.</summary>
    public long this[int line]
    {
        get
        {
            Update();
            return _lines[line];
        }
    }

    /// <summary>The values of all that are kept.</summary>
    public long[] All()
    {
        Update();
        return [.. _lines];
    }

    /// <summary>Changes a field, within its bounds.</summary>
    public void Set(int field, long value)
    {
        if (_fields[field] != value)
        {
            _fields[field] = value;
            Open(_readers.OfField(field));
        }
    }

    /// <summary>Earlier lines first: none reads a later one, so that each is worked out once.</summary>
    private void Update()
    {
        while (_open.TryDequeue(out var line, out _))
        {
            _isOpen.Remove(line);
            var value = Evaluator.Line(_program, _fields, _lines, line);
            if (value != _lines[line])
            {
                _lines[line] = value;
                Open(_readers.OfLine(line));
            }
        }
    }

    private void Open(ReadOnlySpan<int> lines)
    {
        foreach (var line in lines)
        {
            if (line < _lines.Length && _isOpen.Add(line))
            {
                _open.Enqueue(line, line);
            }
        }
    }
}
