using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// After an event that stops touching, the remaining tasks that touch are <c>stopped</c>, never zero. A blank is no
/// answer, so the record says so at each of them.
/// </summary>
internal static class WelfareCheck
{
    /// <param name="parts">How many parts the sitting has: a later one may finish what was stopped.</param>
    public static void Run(
        Protocol protocol,
        IReadOnlyList<long> fields,
        IReadOnlyList<SittingEvent> events,
        int parts,
        Origin where,
        ProblemList problems
    )
    {
        var stops = events
            .Select(e => (Event: e, Kind: protocol.Events.FirstOrDefault(k => k.Name == e.What)))
            .Where(e => e.Kind is { Stops: not WelfareStop.Nothing })
            .ToList();
        var slots = protocol.Program.Answers;
        foreach (var (happened, kind) in stops)
        {
            var last = LastSlot(slots, happened.Task);
            if (last < 0)
            {
                continue;
            }

            var before = (happened.GivenBefore ?? "").Split(',', StringSplitOptions.TrimEntries);
            var after = slots
                .Skip(last + 1)
                .Where(s => !before.Contains(s.Task.Name))
                .Where(s => kind!.StopsTask(s.Task))
                .Where(s => !IsStopped((State)fields[s.StateField]))
                .GroupBy(s => s.Task.Name);
            foreach (var task in after)
            {
                Tell(kind!, [.. task.Select(s => s.Key)], happened, parts, where, problems);
            }
        }

        if (stops.Count == 0 && protocol.Events.Any(e => e.Stops != WelfareStop.Nothing))
        {
            RemarkUntold(protocol, fields, problems);
        }
    }

    /// <summary>Answered by nobody: not on this form, closed beforehand, or stopped.</summary>
    private static bool IsStopped(State state) =>
        state is State.Stopped or State.NotApplicable or State.NotPossible;

    private static int LastSlot(IReadOnlyList<AnswerSlot> slots, string? name)
    {
        for (var i = slots.Count - 1; i >= 0; i--)
        {
            var slot = slots[i];
            if (slot.Task.Name == name || $"{slot.Task.Name}.{slot.Variant.Name}" == name)
            {
                return i;
            }
        }

        return -1;
    }

    private static void Tell(
        EventKind kind,
        List<string> keys,
        SittingEvent happened,
        int parts,
        Origin where,
        ProblemList problems
    )
    {
        var verb = keys.Count == 1 ? "comes" : "come";
        if (parts > 1)
        {
            problems.Remark(
                $"{Say.List(keys)} {verb} after the {Names.ToWords(happened.What)} at {happened.Task}: taken as finished on a later day."
            );
            return;
        }

        problems.Add(
            where,
            keys[0],
            $"{Say.List(keys)} {verb} after the {Names.ToWords(happened.What)} at {happened.Task}, which stops {kind.StopsWords}.",
            "Write stopped; or, where it was given before that, name it in the event, given-before: "
                + $"{keys[0].Split('.')[0]}; or, where it was finished on a later day, add that day under parts."
        );
    }

    private static void RemarkUntold(Protocol protocol, IReadOnlyList<long> fields, ProblemList problems)
    {
        var stopped = protocol
            .Program.Answers.Where(s => fields[s.StateField] == (long)State.Stopped)
            .Select(s => s.Task.Name)
            .Distinct()
            .ToList();
        if (stopped.Count > 0)
        {
            problems.Remark(
                $"{Say.List(stopped)} {(stopped.Count == 1 ? "is" : "are")} stopped for welfare, but no event says what happened."
            );
        }
    }
}
