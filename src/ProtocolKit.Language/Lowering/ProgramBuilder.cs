using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Collects fields and lines of the core program under names that are unique in it.</summary>
/// <param name="expected">About how many names there will be.</param>
internal sealed class ProgramBuilder(int expected)
{
    private readonly List<ProgramField> _fields = [];
    private readonly List<ProgramLine> _lines = [];
    private readonly HashSet<string> _names = new(expected, StringComparer.Ordinal);

    public IntMath Math { get; } = new();
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

        _lines.Add(new ProgramLine(Unique(name), value, null, note));
        return _lines.Count - 1;
    }

    public int Line(string name, BoolExpr condition, string note)
    {
        if (condition is LineCondition line)
        {
            return line.Line;
        }

        _lines.Add(new ProgramLine(Unique(name), null, condition, note));
        return _lines.Count - 1;
    }

    public static LineValue Reference(int line, IntExpr value) => new(line, value.Low, value.High);

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
