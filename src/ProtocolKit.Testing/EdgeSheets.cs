using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>The sheets at which mistakes hide: ends of bounds, single changes, single codes, edges of ages.</summary>
internal static class EdgeSheets
{
    public static IEnumerable<long[]> Of(SheetPlan plan)
    {
        IReadOnlyList<long> forms = plan.HasShortForm ? [0, 1] : [0];
        foreach (var form in forms)
        {
            foreach (var age in AgeEdges(plan))
            {
                yield return SheetRules.Flawless(plan, age, form);
                yield return Uniform(plan, age, form, bounds => bounds.Low);
                yield return Uniform(plan, age, form, bounds => bounds.High);
            }

            foreach (var (state, _, _) in States.Untried)
            {
                yield return AllUntried(plan, form, state);
            }
        }

        foreach (var sheet in OneChange(plan))
        {
            yield return sheet;
        }
    }

    /// <summary>The protocol's first age foremost, then the months on both sides of every limit of age.</summary>
    private static IEnumerable<long> AgeEdges(SheetPlan plan)
    {
        var bounds = plan.AgeBounds;
        var ranges = plan
            .Protocol.CutOffs.SelectMany(t => t.Rows)
            .Select(r => r.Ages)
            .Prepend(plan.Protocol.Ages);
        return ranges
            .SelectMany(r => new long[] { r.From.Months, r.From.Months - 1, r.To.Months, r.To.Months + 1 })
            .Append(bounds.Low)
            .Append(bounds.High)
            .Where(a => bounds.Low <= a && a <= bounds.High)
            .Distinct();
    }

    private static long[] Uniform(SheetPlan plan, long age, long form, Func<ProgramField, long> value)
    {
        var fields = SheetRules.Flawless(plan, age, form);
        foreach (var answer in plan.Program.Answers)
        {
            fields[answer.StateField] = (long)State.Known;
            fields[answer.ValueField] = value(plan.FieldOf(answer));
        }

        foreach (var observation in plan.Program.Observations)
        {
            fields[observation.Field] = value(plan.Program.Fields[observation.Field]);
        }

        return SheetRules.Settle(plan, fields);
    }

    private static long[] AllUntried(SheetPlan plan, long form, State state)
    {
        var fields = SheetRules.Flawless(plan, plan.FirstAge, form);
        foreach (var answer in plan.Program.Answers)
        {
            fields[answer.StateField] = (long)state;
        }

        foreach (var observation in plan.Program.Observations)
        {
            fields[observation.Field] = 0;
        }

        return SheetRules.Settle(plan, fields);
    }

    private static IEnumerable<long[]> OneChange(SheetPlan plan)
    {
        foreach (var answer in plan.Program.Answers)
        {
            foreach (var value in EdgeValues(plan, answer))
            {
                yield return Changed(plan, answer, State.Known, value);
            }

            foreach (var (state, _, _) in States.Untried)
            {
                yield return Changed(plan, answer, state, plan.FieldOf(answer).Low);
            }

            if (answer.Trial > 1 && answer.Task.Trials.FurtherWhen is not null)
            {
                yield return TriedAgain(plan, answer);
            }
        }

        foreach (var observation in plan.Program.Observations)
        {
            foreach (var value in new long[] { 0, 2 })
            {
                var fields = SheetRules.Flawless(plan, plan.FirstAge);
                fields[observation.Field] = value;
                yield return SheetRules.Settle(plan, fields);
            }
        }
    }

    /// <summary>All of a few; of many, the ends and their neighbours.</summary>
    private static IEnumerable<long> EdgeValues(SheetPlan plan, AnswerSlot answer)
    {
        var (low, high) = (plan.FieldOf(answer).Low, plan.FieldOf(answer).High);
        var values =
            high - low < 8
                ? Enumerable.Range(0, (int)(high - low) + 1).Select(i => low + i)
                : [low, low + 1, (low + high) / 2, high - 1, high];
        return values.Where(v => v != plan.Best(answer));
    }

    /// <summary>A further trial, given although the one before it was refused.</summary>
    private static long[] TriedAgain(SheetPlan plan, AnswerSlot answer)
    {
        var fields = SheetRules.Flawless(plan, plan.FirstAge);
        foreach (var other in plan.Program.Answers)
        {
            if (other.Task == answer.Task && other.Variant == answer.Variant && other.Trial <= answer.Trial)
            {
                var state = other.Trial < answer.Trial ? State.Refused : State.Known;
                fields[other.StateField] = (long)state;
                fields[other.ValueField] = plan.Best(other);
            }
        }

        return SheetRules.Settle(plan, fields);
    }

    private static long[] Changed(SheetPlan plan, AnswerSlot answer, State state, long value)
    {
        var fields = SheetRules.Flawless(plan, plan.FirstAge);

        // A further trial that the flawless child needs not is given only after a low earlier one.
        foreach (var earlier in plan.Program.Answers)
        {
            if (
                earlier.Trial < answer.Trial
                && earlier.Task == answer.Task
                && earlier.Variant == answer.Variant
                && earlier.Task.Trials.FurtherWhen?.Response == earlier.Response.Name
            )
            {
                fields[earlier.ValueField] = plan.FieldOf(earlier).Low;
            }
        }

        fields[answer.StateField] = (long)state;
        fields[answer.ValueField] = value;
        return SheetRules.Settle(plan, fields);
    }
}
