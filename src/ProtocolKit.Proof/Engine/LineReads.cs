using System.Runtime.CompilerServices;
using ProtocolKit.Model;

namespace ProtocolKit.Proof.Engine;

/// <summary>Which earlier lines each line of a program reads, and whether it rests on the age in any way.</summary>
internal sealed class LineReads
{
    private static readonly ConditionalWeakTable<ScoringProgram, LineReads> Known = [];

    private readonly int[][] _reads;
    private readonly bool[] _restsOnAge;

    private LineReads(ScoringProgram program)
    {
        (_reads, _restsOnAge) = (new int[program.Lines.Count][], new bool[program.Lines.Count]);
        for (var line = 0; line < _reads.Length; line++)
        {
            var reads = new SortedSet<int>();
            var readsAge = Collect(program.Lines[line].Value, program.AgeField, reads);
            readsAge |= Collect(program.Lines[line].Condition, program.AgeField, reads);
            _reads[line] = [.. reads];
            _restsOnAge[line] = readsAge || Array.Exists(_reads[line], l => _restsOnAge[l]);
        }
    }

    public static LineReads Of(ScoringProgram program) => Known.GetValue(program, p => new LineReads(p));

    /// <summary>Each once, ascending.</summary>
    public IReadOnlyList<int> OfLine(int line) => _reads[line];

    public bool RestsOnAge(int line) => _restsOnAge[line];

    private static bool Collect(object? part, int age, SortedSet<int> lines)
    {
        switch (part)
        {
            case FieldValue f:
                return f.Field == age;
            case LineValue l:
                lines.Add(l.Line);
                return false;
            case LineCondition l:
                lines.Add(l.Line);
                return false;
            default:
                var readsAge = false;
                foreach (var inner in ExpressionParts.Of(part))
                {
                    readsAge |= Collect(inner, age, lines);
                }

                return readsAge;
        }
    }
}
