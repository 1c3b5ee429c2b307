using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Which lines of a program read a field, or an earlier line, in their order.</summary>
internal sealed class LineReaders
{
    private readonly int[][] _ofField;
    private readonly int[][] _ofLine;

    private LineReaders(ScoringProgram program)
    {
        List<int>[] ofField = [.. program.Fields.Select(_ => new List<int>())];
        List<int>[] ofLine = [.. program.Lines.Select(_ => new List<int>())];
        for (var i = 0; i < program.Lines.Count; i++)
        {
            Read(program.Lines[i].Value ?? (object?)program.Lines[i].Condition, i, ofField, ofLine);
        }

        (_ofField, _ofLine) = ([.. ofField.Select(l => l.ToArray())], [.. ofLine.Select(l => l.ToArray())]);
    }

    public static LineReaders Of(ScoringProgram program) => new(program);

    public ReadOnlySpan<int> OfField(int field) => _ofField[field];

    public ReadOnlySpan<int> OfLine(int line) => _ofLine[line];

    private static void Read(object? part, int line, List<int>[] ofField, List<int>[] ofLine)
    {
        switch (part)
        {
            case FieldValue field:
                Add(ofField[field.Field], line);
                break;
            case LineValue value:
                Add(ofLine[value.Line], line);
                break;
            case LineCondition condition:
                Add(ofLine[condition.Line], line);
                break;
            default:
                foreach (var inner in ExpressionParts.Of(part))
                {
                    Read(inner, line, ofField, ofLine);
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
