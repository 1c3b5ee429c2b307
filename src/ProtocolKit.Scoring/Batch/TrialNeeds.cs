using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

internal enum TrialNeed
{
    Due,

    /// <summary>The trial before was untried: this one may be there or not.</summary>
    MayBeGiven,
    Needless,

    /// <summary>The trial before is itself missing.</summary>
    Unclear,
}

/// <summary>How it stands with a trial, from the one before it (R10).</summary>
internal sealed class TrialNeeds
{
    /// <summary>By answer: the answer that decides, or -1, and how many of its steps or levels lie below the limit.</summary>
    private readonly (int After, long Below)[] _rules;
    private readonly ScoringProgram _program;

    public TrialNeeds(ScoringProgram program)
    {
        _program = program;
        var places = program
            .Answers.Select((a, i) => ((a.Task.Name, a.Variant.Name, a.Response.Name, a.Trial), i))
            .ToDictionary(a => a.Item1, a => a.i);
        _rules =
        [
            .. program.Answers.Select(a =>
                a.Trial > 1
                && a.Task.Trials.FurtherWhen is { } further
                && places.TryGetValue(
                    (a.Task.Name, a.Variant.Name, further.Response, a.Trial - 1),
                    out var after
                )
                    ? (after, Below(program.Answers[after], further.Below))
                    : (-1, 0L)
            ),
        ];
    }

    /// <param name="given">By answer: whether the row has it.</param>
    public TrialNeed Of(int answer, bool[] given, long[] fields)
    {
        var (after, below) = _rules[answer];
        if (after < 0)
        {
            return TrialNeed.Due;
        }

        var need = Of(after, given, fields);
        var before = _program.Answers[after];
        if (need == TrialNeed.Needless)
        {
            return need;
        }

        // No word about help is no help, and so it is there.
        if (given[after] || before is { IsHelp: true, Trial: 1 })
        {
            return fields[before.StateField] >= (long)State.NotPlanned ? TrialNeed.MayBeGiven
                : fields[before.ValueField] < below ? TrialNeed.Due
                : TrialNeed.Needless;
        }

        return need == TrialNeed.MayBeGiven ? TrialNeed.MayBeGiven : TrialNeed.Unclear;
    }

    /// <summary>How many values of the field lie below so many points or units.</summary>
    private static long Below(AnswerSlot answer, Rational limit)
    {
        if (answer.Response.Scale is { } scale)
        {
            return scale.Levels.Count(l => l.Points < limit);
        }

        var steps = limit / answer.Response.Step;
        var whole = System.Numerics.BigInteger.DivRem(steps.Numerator, steps.Denominator, out var rest);
        return (long)(rest.Sign > 0 ? whole + 1 : whole);
    }
}
