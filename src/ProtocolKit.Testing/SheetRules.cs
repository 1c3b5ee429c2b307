using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>Makes sheets that a clinician could have filled.</summary>
internal static class SheetRules
{
    /// <summary>Every answer at its best, every observation looked for and not seen; further trials only as needed.</summary>
    public static long[] Flawless(SheetPlan plan, long age, long form = 0)
    {
        var fields = Lowest(plan, age, form);
        foreach (var answer in plan.Program.Answers)
        {
            fields[answer.ValueField] = plan.Best(answer);
            fields[answer.StateField] = (long)State.Known;
        }

        foreach (var observation in plan.Program.Observations)
        {
            fields[observation.Field] = 1;
        }

        return Settle(plan, fields);
    }

    /// <summary>Every field at its lower bound: nothing is filled in yet.</summary>
    public static long[] Lowest(SheetPlan plan, long age, long form)
    {
        var fields = (long[])plan.Lows.Clone();
        fields[plan.Program.AgeField] = age;
        fields[plan.Program.FormField] = form;
        return fields;
    }

    /// <summary>
    /// Puts right, in place, what cannot stand together: an untried answer has its lowest value, a task
    /// off the form or a needless trial is not applicable, and any that is due is given, at its best if it was not; nobody
    /// looks at a task that is not given.
    /// </summary>
    public static long[] Settle(SheetPlan plan, long[] fields) =>
        LeaveOutNotGiven(plan, SettleAll(plan, fields));

    /// <summary>The same with tasks given on after a stop, below a start, or although a skip or the case history closes them.</summary>
    public static long[] SettleAll(SheetPlan plan, long[] fields)
    {
        foreach (var task in plan.Tasks)
        {
            SettleTask(plan, fields, task);
        }

        // The short form's sheet has no place to tick what was seen at other tasks.
        foreach (var observation in plan.Program.Observations)
        {
            if (fields[plan.Program.FormField] == 1 && !observation.Task.ShortForm)
            {
                fields[observation.Field] = 0;
            }
        }

        return fields;
    }

    /// <summary>
    /// With an answer everywhere, the program's own lines say which tasks are given: what isn't counts nowhere in
    /// them, so it can go at once.
    /// </summary>
    private static long[] LeaveOutNotGiven(SheetPlan plan, long[] fields)
    {
        if (plan.Program.Giving.Count == 0)
        {
            return fields;
        }

        var lines = LineValues.UpToGiving(plan.Program, fields);
        foreach (var giving in plan.Program.Giving.Where(g => lines[g.GivenLine] == 0))
        {
            foreach (
                var answer in plan.Program.Answers.Where(a =>
                    a.Task == giving.Task && a.Variant == giving.Variant
                )
            )
            {
                LeaveOut(plan, fields, answer);
            }

            foreach (
                var seen in plan.Program.Observations.Where(o =>
                    o.Task == giving.Task && o.Variant == giving.Variant
                )
            )
            {
                fields[seen.Field] = 0;
            }
        }

        return fields;
    }

    /// <summary>The same for one task: enough where nothing but its answers was changed.</summary>
    public static long[] Settle(SheetPlan plan, long[] fields, TaskPlan task) =>
        plan.Program.Giving.Count == 0 ? SettleTask(plan, fields, task) : Settle(plan, fields);

    private static long[] SettleTask(SheetPlan plan, long[] fields, TaskPlan task)
    {
        foreach (var (trial, need) in NeedsOf(plan, fields, task))
        {
            foreach (var answer in task.Trials[trial])
            {
                SettleAnswer(plan, fields, answer, need);
            }
        }

        return fields;
    }

    /// <summary>Every trial of a task with how it stands with it, each looked at once those before it are settled.</summary>
    public static IEnumerable<(int Trial, Need Need)> NeedsOf(SheetPlan plan, long[] fields, TaskPlan task)
    {
        var need = plan.IsOnForm(task, fields) ? Need.Due : Need.Needless;
        for (var trial = 0; trial < task.Trials.Count; trial++)
        {
            need = trial == 0 ? need : SheetPlan.NeedAfter(task, trial, need, fields);
            yield return (trial, need);
        }
    }

    private static void SettleAnswer(SheetPlan plan, long[] fields, AnswerSlot answer, Need need)
    {
        var state = (State)fields[answer.StateField];
        if (need == Need.Needless || (need == Need.MayBeGiven && state == State.NotApplicable))
        {
            LeaveOut(plan, fields, answer);
        }
        else if (state == State.NotApplicable)
        {
            fields[answer.StateField] = (long)State.Known;
            fields[answer.ValueField] = plan.Best(answer);
        }
        else if (state != State.Known && answer.IsHelp)
        {
            // Help was given or it was not: a record has no other word for it.
            fields[answer.StateField] = (long)State.Known;
            fields[answer.ValueField] = plan.Best(answer);
        }
        else if (state != State.Known)
        {
            fields[answer.ValueField] = plan.FieldOf(answer).Low;
        }
    }

    public static void LeaveOut(SheetPlan plan, long[] fields, AnswerSlot answer)
    {
        fields[answer.StateField] = (long)State.NotApplicable;
        fields[answer.ValueField] = plan.FieldOf(answer).Low;
    }
}
