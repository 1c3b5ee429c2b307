using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Collects fields and lines of the core program under names that are unique in it.</summary>
/// <param name="expected">About how many names there will be.</param>
internal sealed class ProgramBuilder(int expected)
{
    private List<ProgramField> _fields = new(expected * 2 / 5);
    private List<ProgramLine> _lines = new(expected * 3 / 5);
    private readonly HashSet<string> _names = new(expected, StringComparer.Ordinal);

    /// <summary>A value with more parts than this is given a line, so that what reads it twice doesn't repeat it.</summary>
    private const int LargestPart = 40;

    private readonly Dictionary<object, int> _sizes = new(ReferenceEqualityComparer.Instance);

    /// <summary>Where the next line goes while lines are replaced, and where that ends; -1: at the end of all.</summary>
    private (int Next, int To) _replaced = (-1, -1);

    public IntMath Math { get; } = new();

    /// <summary>What is being worked out; the names of its parts begin with it.</summary>
    public string Scope { get; set; } = "part";
    public IReadOnlyList<ProgramField> Fields => _fields;
    public IReadOnlyList<ProgramLine> Lines => _lines;

    public FieldValue Field(string name, long low, long high, string note)
    {
        _fields.Add(new ProgramField(Unique(name), low, high, note));
        return new FieldValue(_fields.Count - 1, low, high);
    }

    /// <summary>Names a value; what is a constant or has a name already keeps it.</summary>
    public IntExpr Name(string name, IntExpr value, string note) =>
        value is Constant or FieldValue or LineValue ? value : Reference(Line(name, value, note), value);

    public BoolExpr Name(string name, BoolExpr condition, string note) =>
        Bools.IsTrue(condition) || Bools.IsFalse(condition) || condition is LineCondition
            ? condition
            : new LineCondition(Line(name, condition, note));

    /// <summary>A line of its own whatever the value is, for results that need an index.</summary>
    public int Line(string name, IntExpr value, string note)
    {
        if (value is LineValue line)
        {
            return line.Line;
        }

        return Add(name, value, null, note);
    }

    public int Line(string name, BoolExpr condition, string note)
    {
        if (condition is LineCondition line)
        {
            return line.Line;
        }

        return Add(name, null, condition, note);
    }

    public static LineValue Reference(int line, IntExpr value) => new(line, value.Low, value.High);

    /// <summary>The value itself while it is small, else the line it is given.</summary>
    public IntExpr Small(IntExpr value) =>
        SizeOf(value) <= LargestPart ? value : Name($"{Scope}.part", value, "a part of the value");

    public BoolExpr Small(BoolExpr condition) =>
        SizeOf(condition) <= LargestPart
            ? condition
            : Name($"{Scope}.part", condition, "a part of the condition");

    private int SizeOf(object? node)
    {
        if (node is null or Constant or FieldValue or LineValue or LineCondition)
        {
            return 1;
        }

        if (!_sizes.TryGetValue(node, out var size))
        {
            size = 1 + System.Math.Min(ExpressionParts.Of(node).Sum(SizeOf), 1_000_000);
            _sizes[node] = size;
        }

        return size;
    }

    /// <summary>Lines that were handed out stay as they are: what follows changes a copy.</summary>
    public void Copy(Undo undo)
    {
        var before = _lines;
        undo.Add(() => _lines = before);
        _lines = [.. before];
        _sizes.Clear();
        HasMisfit = false;
    }

    /// <summary>
    /// Another name for a task, in the names of its fields and of its kept trials. False where a name is or was taken, so that a
    /// number has to be put behind one.
    /// </summary>
    /// <param name="end">The line after the last of a kept trial.</param>
    public bool Rename(string old, string anew, IEnumerable<int> fields, int end, Undo undo)
    {
        var before = _fields;
        undo.Add(() => _fields = before);
        _fields = [.. _fields];
        foreach (var field in fields)
        {
            var name = _fields[field].Name;
            if (!Rename(name, old + ".", anew + ".", undo, out var then))
            {
                return false;
            }

            _fields[field] = _fields[field] with { Name = then };
        }

        var kept = $"kept.{old}.";
        for (var i = 0; i < end; i++)
        {
            if (!_lines[i].Name.StartsWith(kept, StringComparison.Ordinal))
            {
                continue;
            }

            if (!Rename(_lines[i].Name, kept, $"kept.{anew}.", undo, out var then))
            {
                return false;
            }

            _lines[i] = _lines[i] with { Name = then };
        }

        return true;
    }

    private bool Rename(string name, string old, string anew, Undo undo, out string then)
    {
        then = string.Concat(anew, name.AsSpan(System.Math.Min(old.Length, name.Length)));
        if (
            !name.StartsWith(old, StringComparison.Ordinal)
            || _names.Contains(name + "-2")
            || _names.Contains(then)
        )
        {
            return false;
        }

        var made = then;
        undo.Add(() =>
        {
            _names.Remove(made);
            _names.Add(name);
        });
        _names.Remove(name);
        _names.Add(then);
        return true;
    }

    /// <summary>Other limits of some fields, and what their numbers mean. Fields that were handed out stay as they were.</summary>
    public void Bound(IEnumerable<(FieldValue Value, string Note)> fields, Undo undo)
    {
        var before = _fields;
        undo.Add(() => _fields = before);
        _fields = [.. _fields];
        foreach (var (value, note) in fields)
        {
            _fields[value.Field] = new ProgramField(_fields[value.Field].Name, value.Low, value.High, note);
        }
    }

    /// <summary>The lines whose names begin so, from the first to after the last; none where others stand among them.</summary>
    public (int From, int To) LinesOf(string prefix, int end)
    {
        var (from, to, count) = (-1, -1, 0);
        for (var i = 0; i < end; i++)
        {
            if (_lines[i].Name.StartsWith(prefix, StringComparison.Ordinal))
            {
                from = from < 0 ? i : from;
                (to, count) = (i + 1, count + 1);
            }
        }

        return from >= 0 && to - from == count ? (from, to) : (0, 0);
    }

    /// <summary>From here on lines take the places and names of these.</summary>
    public void Replace(int from, int to) => _replaced = (from, to);

    /// <summary>Lines go to the end again.</summary>
    public void EndReplace()
    {
        HasMisfit |= _replaced.Next != _replaced.To;
        _replaced = (-1, -1);
    }

    /// <summary>New lines did not fit in the place of old ones: there were more, fewer, or some of other names.</summary>
    public bool HasMisfit { get; private set; }

    /// <summary>Drops a line and all after it.</summary>
    public void CutBack(int line, Undo undo)
    {
        var dropped = _lines.GetRange(line, _lines.Count - line);
        undo.Add(() =>
        {
            _names.ExceptWith(_lines.Skip(line).Select(l => l.Name));
            _names.UnionWith(dropped.Select(l => l.Name));
        });
        _names.ExceptWith(dropped.Select(l => l.Name));
        _lines.RemoveRange(line, _lines.Count - line);
    }

    private int Add(string name, IntExpr? value, BoolExpr? condition, string note)
    {
        if (_replaced.Next < 0)
        {
            _lines.Add(new ProgramLine(Unique(name), value, condition, note));
            return _lines.Count - 1;
        }

        var place = _replaced.Next++;
        if (place < _replaced.To && IsMadeFrom(_lines[place].Name, name))
        {
            _lines[place] = new ProgramLine(_lines[place].Name, value, condition, note);
        }
        else
        {
            HasMisfit = true;
        }

        return place;
    }

    /// <summary>The name itself, or with the number that made it unique.</summary>
    private static bool IsMadeFrom(string unique, string name) =>
        unique.StartsWith(name, StringComparison.Ordinal)
        && (
            unique.Length == name.Length
            || (
                unique[name.Length] == '-'
                && !unique.AsSpan(name.Length + 1).ContainsAnyExceptInRange('0', '9')
            )
        );

    private string Unique(string name)
    {
        if (_names.Add(name))
        {
            return name;
        }

        var number = 2;
        while (!_names.Add($"{name}-{number}"))
        {
            number++;
        }

        return $"{name}-{number}";
    }
}
