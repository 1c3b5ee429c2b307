using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests.Mixed;

/// <summary>R2, R7 to R10 for the routed section: which tasks are given, and what each counts.</summary>
internal sealed class MixedRouting(MixedSpec spec, MixedSheet sheet, Dictionary<string, Counted> answers)
{
    private const int Full = 2;

    public void Run()
    {
        var start = sheet.Months >= 60 ? spec.Start : 0;
        var given = Up(start);
        Down(start, given);
    }

    /// <summary>From the start point on; gives which of the tasks are given.</summary>
    private List<bool> Up(int start)
    {
        var given = new List<bool>();
        var run = 0;
        for (var i = 0; i < spec.Tasks.Count; i++)
        {
            var task = spec.Tasks[i];
            var why = Why(i);
            if (why is { } known)
            {
                answers[task.Name] = known;
                given.Add(false);
            }
            else if (i >= start && spec.Stop > 0 && run >= spec.Stop)
            {
                answers[task.Name] = spec.ByDifficulty ? new Counted(0, 0, false) : new Counted(0, 0, true);
                given.Add(false);
            }
            else
            {
                var kept = Kept(task);
                answers[task.Name] = kept;
                given.Add(true);
                if (i >= start)
                {
                    run = kept is { Untried: 0, Points: 0 } ? run + 1 : 0;
                }
            }
        }

        return given;
    }

    /// <summary>Below the start point, task by task until enough in a row are full; what is further down counts full.</summary>
    private void Down(int start, List<bool> given)
    {
        var (full, found) = (0, false);
        for (var i = spec.Tasks.Count - 1; i >= 0; i--)
        {
            var name = spec.Tasks[i].Name;
            found |= i < start && full >= spec.GoBack;
            if (found && given[i])
            {
                answers[name] = new Counted(Full, 0, false);
            }
            else if (given[i])
            {
                full = answers[name] is { Untried: 0, Points: Full } ? full + 1 : 0;
            }
            else if (Why(i) is null)
            {
                // It stopped before this one.
                full = 0;
            }
        }
    }

    /// <summary>What a task counts that isn't given, but for a stop; null where it is.</summary>
    private Counted? Why(int index)
    {
        if (index == spec.Closes && sheet.IsSore)
        {
            return new Counted(0, (int)State.NotPossible, false);
        }

        var task = spec.Tasks[index];
        var earlier = task.SkipAfter < 0 ? default : answers[spec.Tasks[task.SkipAfter].Name];
        if (task.SkipAfter < 0 || earlier.IsOut || earlier.Untried > 0 || earlier.Points > 0)
        {
            return null;
        }

        return task.Credit switch
        {
            "left out" => new Counted(0, 0, true),
            "counts lowest" => new Counted(0, 0, false),
            _ => new Counted(Full, 0, false),
        };
    }

    private Counted Kept(MixedTask task)
    {
        switch (task.Trying)
        {
            case Trying.BestOfTwo:
                var trials = new[] { 1, 2 }
                    .Select(n => MixedReference.Kept(sheet.Written[$"{task.Name}.rate.trial-{n}"]))
                    .ToList();
                var tried = trials.Where(t => t.Untried == 0).ToList();
                return tried.Count > 0
                    ? new Counted(tried.Max(t => t.Points), 0, false)
                    : new Counted(0, trials.Max(t => t.Untried), false);
            case Trying.WithHelp:
                var alone = MixedReference.Kept(sheet.Written[$"{task.Name}.rate"]);
                var rung = sheet.Written[$"{task.Name}.help"];
                if (alone.Untried > 0 || rung == 2)
                {
                    return alone;
                }

                // Moved by hand costs a point, said again nothing.
                var aided = Math.Max(0, sheet.Written[$"{task.Name}.rate.with-help"] - (rung == 0 ? 1 : 0));
                return alone with { Points = Math.Max(alone.Points, aided) };
            default:
                return MixedReference.Kept(sheet.Written[$"{task.Name}.rate"]);
        }
    }
}
