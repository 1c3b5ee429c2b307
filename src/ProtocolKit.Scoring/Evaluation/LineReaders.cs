using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Which lines of a program read a field, or an earlier line, in their order.</summary>
internal sealed class LineReaders
{
    private readonly List<int>[] _ofField;
    private readonly List<int>[] _ofLine;

    private LineReaders(ScoringProgram program)
    {
        _ofField = [.. program.Fields.Select(_ => new List<int>())];
        _ofLine = [.. program.Lines.Select(_ => new List<int>())];
        for (var i = 0; i < program.Lines.Count; i++)
        {
            Read(program.Lines[i].Value ?? (object?)program.Lines[i].Condition, i);
        }
    }

    public static LineReaders Of(ScoringProgram program) => new(program);

    public IReadOnlyList<int> OfField(int field) => _ofField[field];

    public IReadOnlyList<int> OfLine(int line) => _ofLine[line];

    private void Read(object? part, int line)
    {
        switch (part)
        {
            case FieldValue field:
                Add(_ofField[field.Field], line);
                break;
            case LineValue value:
                Add(_ofLine[value.Line], line);
                break;
            case LineCondition condition:
                Add(_ofLine[condition.Line], line);
                break;
            default:
                foreach (var inner in ExpressionParts.Of(part))
                {
                    Read(inner, line);
                }

                break;
        }
    }

    /// <summary>Once, though a line may read it often.</summary>
    private static void Add(List<int> readers, int line)
    {
        if (readers.Count == 0 || readers[^1] != line)
        {
            readers.Add(line);
        }
    }
}
