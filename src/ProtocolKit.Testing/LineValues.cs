using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>
/// The values of the program's first lines, those that say which tasks are given: a second reading of them, beside the one that
/// scores, so that a sheet's shape doesn't rest on the code it will test.
/// </summary>
internal static class LineValues
{
    public static long[] UpToGiving(ScoringProgram program, long[] fields)
    {
        var lines = new long[program.GivingEnd];
        for (var i = 0; i < lines.Length; i++)
        {
            var line = program.Lines[i];
            lines[i] = line.Value is { } value
                ? Of(value, fields, lines)
                : (Holds(line.Condition!, fields, lines) ? 1 : 0);
        }

        return lines;
    }

    private static long Of(IntExpr value, long[] fields, long[] lines)
    {
        long At(IntExpr inner) => Of(inner, fields, lines);
        bool Is(BoolExpr inner) => Holds(inner, fields, lines);
        return value switch
        {
            Constant c => c.Value,
            FieldValue f => fields[f.Field],
            LineValue l => lines[l.Line],
            Add a => At(a.Left) + At(a.Right),
            Subtract s => At(s.Left) - At(s.Right),
            Multiply m => At(m.Left) * At(m.Right),
            Least l => Math.Min(At(l.Left), At(l.Right)),
            Most m => Math.Max(At(m.Left), At(m.Right)),
            Choose c => Is(c.If) ? At(c.Then) : At(c.Else),
            FloorDivide d => At(d.Dividend) / At(d.Divisor),
            GuardedSum s => s.Terms.Where(t => t.If is null || Is(t.If)).Sum(t => At(t.Value)),
            Pick p => Case(p, At(p.Subject)),
            _ => throw new InvalidOperationException($"No meaning for {value.GetType().Name}."),
        };
    }

    private static long Case(Pick pick, long subject) =>
        pick.Cases.First(c => c.From <= subject && subject <= c.To).Value;

    private static bool Holds(BoolExpr condition, long[] fields, long[] lines)
    {
        long At(IntExpr inner) => Of(inner, fields, lines);
        bool Is(BoolExpr inner) => Holds(inner, fields, lines);
        return condition switch
        {
            LineCondition l => lines[l.Line] != 0,
            IsEqual e => At(e.Left) == At(e.Right),
            IsAtMost a => At(a.Left) <= At(a.Right),
            BothOf b => Is(b.Left) && Is(b.Right),
            EitherOf e => Is(e.Left) || Is(e.Right),
            Not n => !Is(n.Inner),
            _ => throw new InvalidOperationException($"No meaning for {condition.GetType().Name}."),
        };
    }
}
