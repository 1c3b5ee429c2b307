using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// The reference meaning of a scoring program: plain interpretation over whole numbers. Every emitted
/// target is held against it. It never overflows: the program's limits were proved when it was built.
/// </summary>
public static class Evaluator
{
    /// <summary>Gives every line its value, in the order of the lines; a condition is 0 or 1.</summary>
    /// <param name="program">A checked program.</param>
    /// <param name="fields">One value per field, in the order of <see cref="ScoringProgram.Fields"/>.</param>
    /// <exception cref="ArgumentException">
    /// The number of values is not the number of fields, or a value lies outside its field's bounds.
    /// </exception>
    public static long[] Run(ScoringProgram program, IReadOnlyList<long> fields)
    {
        ArgumentNullException.ThrowIfNull(program);
        return Run(program, fields, program.Lines.Count);
    }

    /// <summary>The same for the first so many lines: none reads a later one.</summary>
    public static long[] Run(ScoringProgram program, IReadOnlyList<long> fields, int count)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(fields);
        var values = fields as long[] ?? [.. fields];
        CheckBounds(program, values);
        var lines = new long[count];
        var frame = new Frame(values, lines);
        for (var i = 0; i < lines.Length; i++)
        {
            lines[i] = frame.Line(program.Lines[i]);
        }

        return lines;
    }

    /// <summary>One line alone, from fields and lines that are worked out.</summary>
    internal static long Line(ScoringProgram program, long[] fields, long[] lines, int line) =>
        new Frame(fields, lines).Line(program.Lines[line]);

    private static long Truth(bool holds) => holds ? 1 : 0;

    private static void CheckBounds(ScoringProgram program, long[] fields)
    {
        if (fields.Length != program.Fields.Count)
        {
            throw new ArgumentException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The program has {program.Fields.Count} fields, but {fields.Length} values were given."
                ),
                nameof(fields)
            );
        }

        for (var i = 0; i < fields.Length; i++)
        {
            var field = program.Fields[i];
            if (fields[i] < field.Low || fields[i] > field.High)
            {
                throw new ArgumentException(
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"Field {field.Name} is {fields[i]}, outside its bounds {field.Low} to {field.High}."
                    ),
                    nameof(fields)
                );
            }
        }
    }

    private readonly struct Frame(long[] fields, long[] lines)
    {
        public long Line(ProgramLine line) =>
            line.Value is { } value ? Value(value) : Truth(Holds(line.Condition!));

        public long Value(IntExpr value) =>
            value switch
            {
                Constant c => c.Value,
                FieldValue f => fields[f.Field],
                LineValue l => lines[l.Line],
                Add a => Value(a.Left) + Value(a.Right),
                Subtract s => Value(s.Left) - Value(s.Right),
                Multiply m => Value(m.Left) * Value(m.Right),
                Least l => Math.Min(Value(l.Left), Value(l.Right)),
                Most m => Math.Max(Value(m.Left), Value(m.Right)),
                Choose c => Holds(c.If) ? Value(c.Then) : Value(c.Else),
                FloorDivide d => Value(d.Dividend) / Value(d.Divisor),
                GuardedSum s => Sum(s),
                Pick p => Case(p),
                _ => throw new InvalidOperationException(
                    "The program holds a value no one has given a meaning."
                ),
            };

        public bool Holds(BoolExpr condition) =>
            condition switch
            {
                LineCondition l => lines[l.Line] != 0,
                IsEqual e => Value(e.Left) == Value(e.Right),
                IsAtMost a => Value(a.Left) <= Value(a.Right),
                BothOf b => Holds(b.Left) && Holds(b.Right),
                EitherOf e => Holds(e.Left) || Holds(e.Right),
                Not n => !Holds(n.Inner),
                _ => throw new InvalidOperationException(
                    "The program holds a condition no one has given a meaning."
                ),
            };

        private long Sum(GuardedSum sum)
        {
            long total = 0;
            for (var i = 0; i < sum.Terms.Count; i++)
            {
                var term = sum.Terms[i];
                if (term.If is null || Holds(term.If))
                {
                    total += Value(term.Value);
                }
            }

            return total;
        }

        private long Case(Pick pick)
        {
            var subject = Value(pick.Subject);
            for (var i = 0; i < pick.Cases.Count; i++)
            {
                var one = pick.Cases[i];
                if (one.From <= subject && subject <= one.To)
                {
                    return one.Value;
                }
            }

            throw new InvalidOperationException(
                "A case table of the program leaves a value of its subject out."
            );
        }
    }
}
