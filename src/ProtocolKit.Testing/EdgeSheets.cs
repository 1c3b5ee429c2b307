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
                foreach (var slot in plan.Program.History)
                {
                    yield return Closed(plan, age, form, slot);
                }
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

    /// <summary>One question of the case history answered with yes, on a flawless sheet.</summary>
    private static long[] Closed(SheetPlan plan, long age, long form, HistorySlot slot)
    {
        var fields = SheetRules.Flawless(plan, age, form);
        fields[slot.Field] = 1;
        return SheetRules.Settle(plan, fields);
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
        var flawless = SheetRules.Flawless(plan, plan.FirstAge);
        foreach (var task in plan.Tasks)
        {
            foreach (var sheet in OneChange(plan, flawless, task))
            {
                yield return sheet;
            }
        }

        foreach (var observation in plan.Program.Observations)
        {
            foreach (var value in new long[] { 0, 2 })
            {
                var fields = (long[])flawless.Clone();
                fields[observation.Field] = value;
                yield return fields;
            }
        }
    }

    private static IEnumerable<long[]> OneChange(SheetPlan plan, long[] flawless, TaskPlan task)
    {
        for (var trial = 0; trial < task.Trials.Count; trial++)
        {
            foreach (var answer in task.Trials[trial])
            {
                foreach (var value in EdgeValues(plan, answer))
                {
                    yield return Changed(plan, flawless, task, answer, State.Known, value);
                }

                foreach (var (state, _, _) in States.Untried)
                {
                    yield return Changed(plan, flawless, task, answer, state, plan.FieldOf(answer).Low);
                }
            }

            if (trial > 0 && task.Task.Trials.FurtherWhen is not null)
            {
                yield return TriedAgain(plan, flawless, task, trial);
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

    /// <summary>A further trial, given although those before it were refused.</summary>
    private static long[] TriedAgain(SheetPlan plan, long[] flawless, TaskPlan task, int trial)
    {
        var fields = (long[])flawless.Clone();
        for (var i = 0; i <= trial; i++)
        {
            foreach (var answer in task.Trials[i])
            {
                fields[answer.StateField] = (long)(i < trial ? State.Refused : State.Known);
                fields[answer.ValueField] = plan.Best(answer);
            }
        }

        return SheetRules.Settle(plan, fields, task);
    }

    private static long[] Changed(
        SheetPlan plan,
        long[] flawless,
        TaskPlan task,
        AnswerSlot changed,
        State state,
        long value
    )
    {
        var fields = (long[])flawless.Clone();

        // A further trial that the flawless child needs not is given only after a low earlier one.
        var deciding = task.Task.Trials.FurtherWhen?.Response;
        foreach (var earlier in task.Trials.SelectMany(t => t).Where(a => a.Trial < changed.Trial))
        {
            if (earlier.Response.Name == deciding)
            {
                fields[earlier.StateField] = (long)State.Known;
                fields[earlier.ValueField] = plan.FieldOf(earlier).Low;
            }
        }

        fields[changed.StateField] = (long)state;
        fields[changed.ValueField] = value;
        return SheetRules.Settle(plan, fields, task);
    }
}
