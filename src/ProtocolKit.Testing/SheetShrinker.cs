using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>
/// Simpler sheets of a sheet: closer to the flawless one. Each has fewer answers that differ from it, or as
/// many and fewer steps off, so shrinking always ends.
/// </summary>
internal static class SheetShrinker
{
    public static IEnumerable<long[]> Of(SheetPlan plan, long[] fields)
    {
        var size = SizeOf(plan, fields);
        return Candidates(plan, fields).Where(c => SizeOf(plan, c).CompareTo(size) < 0);
    }

    /// <summary>How many answers differ from the flawless sheet, and by how many steps altogether.</summary>
    public static (int Differing, Int128 Steps) SizeOf(SheetPlan plan, long[] fields)
    {
        var flawless = SheetRules.Flawless(plan, plan.FirstAge, fields[plan.Program.FormField]);
        var differing = (int)fields[plan.Program.FormField];
        var steps = (Int128)differing;
        void Count(Int128 off)
        {
            differing += off == 0 ? 0 : 1;
            steps += off;
        }

        Count(Math.Abs(fields[plan.Program.AgeField] - flawless[plan.Program.AgeField]));
        foreach (var answer in plan.Program.Answers)
        {
            var bounds = plan.FieldOf(answer);
            var state = (State)fields[answer.StateField];
            var wanted = (State)flawless[answer.StateField];
            var off = Int128.Abs((Int128)fields[answer.ValueField] - flawless[answer.ValueField]);
            Count(state == wanted ? off : (Int128)bounds.High - bounds.Low + (state.IsUntried() ? 2 : 1));
        }

        foreach (var observation in plan.Program.Observations)
        {
            Count(Math.Abs(fields[observation.Field] - flawless[observation.Field]));
        }

        foreach (var slot in plan.Program.History)
        {
            Count(fields[slot.Field]);
        }

        return (differing, steps);
    }

    private static IEnumerable<long[]> Candidates(SheetPlan plan, long[] fields)
    {
        var program = plan.Program;
        var (age, form) = (fields[program.AgeField], fields[program.FormField]);
        yield return SheetRules.Flawless(plan, plan.FirstAge);
        yield return SheetRules.Flawless(plan, age, form);
        yield return With(plan, fields, f => f[program.FormField] = 0);
        yield return With(plan, fields, f => f[program.AgeField] = plan.FirstAge);
        yield return With(plan, fields, f => f[program.AgeField] = (age + plan.FirstAge) / 2);
        yield return With(plan, fields, f => f[program.AgeField] = age + Math.Sign(plan.FirstAge - age));
        foreach (var sheet in WholeParts(plan, fields))
        {
            yield return sheet;
        }

        foreach (var answer in program.Answers)
        {
            foreach (var sheet in OneAnswer(plan, fields, answer))
            {
                yield return sheet;
            }
        }

        foreach (var observation in program.Observations)
        {
            yield return With(plan, fields, f => f[observation.Field] = 1);
        }

        foreach (var slot in program.History)
        {
            yield return With(plan, fields, f => f[slot.Field] = 0);
        }
    }

    /// <summary>Halves, quarters, eighths … of the sheet made flawless at once.</summary>
    private static IEnumerable<long[]> WholeParts(SheetPlan plan, long[] fields)
    {
        var count = plan.Program.Answers.Count;
        for (var length = (count + 1) / 2; length > 1; length = (length + 1) / 2)
        {
            for (var start = 0; start < count; start += length)
            {
                var end = Math.Min(start + length, count);
                var from = start;
                yield return With(
                    plan,
                    fields,
                    f =>
                    {
                        for (var i = from; i < end; i++)
                        {
                            Answer(f, plan.Program.Answers[i], plan.Best(plan.Program.Answers[i]));
                        }
                    }
                );
            }

            if (length == 2)
            {
                break;
            }
        }

        yield return With(
            plan,
            fields,
            f =>
            {
                foreach (var observation in plan.Program.Observations)
                {
                    f[observation.Field] = 1;
                }
            }
        );
    }

    private static IEnumerable<long[]> OneAnswer(SheetPlan plan, long[] fields, AnswerSlot answer)
    {
        var state = (State)fields[answer.StateField];
        if (state == State.NotApplicable)
        {
            yield break;
        }

        var best = plan.Best(answer);
        var bounds = plan.FieldOf(answer);
        yield return With(plan, fields, f => Answer(f, answer, best));
        if (answer.Trial > 1)
        {
            yield return With(plan, fields, f => SheetRules.LeaveOut(plan, f, answer));
        }

        if (state.IsUntried())
        {
            var worst = best == bounds.High ? bounds.Low : bounds.High;
            yield return With(plan, fields, f => Answer(f, answer, worst));
            yield break;
        }

        var value = fields[answer.ValueField];
        yield return With(plan, fields, f => Answer(f, answer, value + ((best - value) / 2)));
        yield return With(plan, fields, f => Answer(f, answer, value + Math.Sign(best - value)));
    }

    private static void Answer(long[] fields, AnswerSlot answer, long value)
    {
        fields[answer.StateField] = (long)State.Known;
        fields[answer.ValueField] = value;
    }

    private static long[] With(SheetPlan plan, long[] fields, Action<long[]> change)
    {
        var copy = (long[])fields.Clone();
        change(copy);
        return SheetRules.Settle(plan, copy);
    }
}
