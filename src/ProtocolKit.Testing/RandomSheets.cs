using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>
/// One valid sheet from one seed. A sheet has a mood of its own (how well the child does, how much is
/// untried), since answers drawn evenly and apart would all add up to middling totals.
/// </summary>
internal static class RandomSheets
{
    private enum Mood
    {
        Even,
        MostlyBest,
        MostlyWorst,
        Ends,
    }

    private static readonly IReadOnlyList<Mood> Moods = Enum.GetValues<Mood>();

    /// <summary>Of a hundred answers, so many are untried.</summary>
    private static readonly IReadOnlyList<int> UntriedRates = [0, 0, 0, 1, 3, 10, 50, 100];

    private static readonly IReadOnlyList<State> Codes = [.. States.Untried.Select(u => u.State)];

    public static long[] From(SheetPlan plan, ulong seed)
    {
        var draw = new Draw(seed);
        var fields = SheetRules.Lowest(plan, Age(plan, draw), plan.HasShortForm ? draw.Between(0, 1) : 0);
        var mood = draw.OneOf(Moods);
        var untried = draw.OneOf(UntriedRates);
        foreach (var answer in plan.Program.Answers)
        {
            var isUntried = draw.Chance(untried, 100);
            fields[answer.StateField] = (long)(isUntried ? draw.OneOf(Codes) : State.Known);
            fields[answer.ValueField] = Value(plan, answer, mood, draw);
        }

        foreach (var observation in plan.Program.Observations)
        {
            fields[observation.Field] = draw.Between(0, 2);
        }

        foreach (var slot in plan.Program.History)
        {
            fields[slot.Field] = draw.Chance(1, 4) ? 1 : 0;
        }

        LeaveSomeOut(plan, SheetRules.SettleAll(plan, fields), draw);

        // Some examiners go on where they should stop: their answers are kept and not counted.
        return draw.Chance(1, 5) ? SheetRules.SettleAll(plan, fields) : SheetRules.Settle(plan, fields);
    }

    /// <summary>After an untried trial some examiners try again and some do not.</summary>
    private static void LeaveSomeOut(SheetPlan plan, long[] fields, Draw draw)
    {
        foreach (var task in plan.Tasks.Where(t => t.Task.Trials.FurtherWhen is not null))
        {
            foreach (var (trial, need) in SheetRules.NeedsOf(plan, fields, task))
            {
                if (need == Need.MayBeGiven && draw.Chance(1, 2))
                {
                    foreach (var answer in task.Trials[trial])
                    {
                        SheetRules.LeaveOut(plan, fields, answer);
                    }
                }
            }
        }
    }

    /// <summary>Mostly within the protocol's ages, now and then just outside or far off.</summary>
    private static long Age(SheetPlan plan, Draw draw)
    {
        var bounds = plan.AgeBounds;
        var (from, to) = (plan.Protocol.Ages.From.Months, plan.Protocol.Ages.To.Months);
        return draw.Between(1, 20) switch
        {
            1 => draw.Between(bounds.Low, bounds.High),
            2 => Math.Clamp(draw.Between(from - 2, from), bounds.Low, bounds.High),
            3 => Math.Clamp(draw.Between(to, to + 2), bounds.Low, bounds.High),
            _ => Math.Clamp(draw.Between(from, to), bounds.Low, bounds.High),
        };
    }

    private static long Value(SheetPlan plan, AnswerSlot answer, Mood mood, Draw draw)
    {
        var bounds = plan.FieldOf(answer);
        var best = plan.Best(answer);
        var worst = best == bounds.High ? bounds.Low : bounds.High;
        return mood switch
        {
            Mood.MostlyBest when draw.Chance(8, 10) => best,
            Mood.MostlyWorst when draw.Chance(8, 10) => worst,
            Mood.Ends => draw.Chance(1, 2) ? bounds.Low : bounds.High,
            _ => draw.Between(bounds.Low, bounds.High),
        };
    }
}
