using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// Numbers the expressions of some lines: equal ones have the same number. Rules about all bands say the same things again and
/// again, and what is said twice needs working out once.
/// </summary>
internal sealed class SameParts
{
    private readonly Dictionary<string, int> _numbers = new(StringComparer.Ordinal);
    private readonly Dictionary<object, int> _known = new(ReferenceEqualityComparer.Instance);
    private readonly List<int> _uses = [];

    public SameParts(ScoringProgram program, IReadOnlyList<int> lines)
    {
        foreach (var line in lines)
        {
            Use(program.Lines[line].Value ?? (object)program.Lines[line].Condition!);
        }
    }

    /// <summary>How many expressions differ.</summary>
    public int Count => _uses.Count;

    public int NumberOf(object part) => _known[part];

    public bool IsShared(int number) => _uses[number] > 1;

    private int Use(object? part)
    {
        if (part is null)
        {
            return -1;
        }

        if (!_known.TryGetValue(part, out var number))
        {
            // What is inside is used once by all that are equal.
            var key = Key(part);
            if (!_numbers.TryGetValue(key, out number))
            {
                number = _uses.Count;
                _numbers.Add(key, number);
                _uses.Add(0);
            }
            else
            {
                Forget(part);
            }

            _known.Add(part, number);
        }

        _uses[number]++;
        return number;
    }

    private void Forget(object part)
    {
        foreach (var inner in ExpressionParts.Of(part))
        {
            if (inner is not null)
            {
                _uses[_known[inner]]--;
            }
        }
    }

    private string Key(object part)
    {
        var inside = string.Join(',', ExpressionParts.Of(part).Select(Use));
        var own = part switch
        {
            Constant c => c.Value.ToString(CultureInfo.InvariantCulture),
            FieldValue f => f.Field.ToString(CultureInfo.InvariantCulture),
            LineValue l => l.Line.ToString(CultureInfo.InvariantCulture),
            LineCondition l => l.Line.ToString(CultureInfo.InvariantCulture),
            Pick p => string.Join(';', p.Cases),
            _ => "",
        };
        return $"{part.GetType().Name} {own} {inside}";
    }
}
