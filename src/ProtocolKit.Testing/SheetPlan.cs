using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>
/// How the fields of a program hang together on a sheet: which answers are one trial, which trials one
/// task, when a trial is given, and what the best answer of each is.
/// </summary>
internal sealed class SheetPlan
{
    public SheetPlan(Protocol protocol)
    {
        Protocol = protocol;
        Program = protocol.Program;
        Lows = [.. Program.Fields.Select(f => f.Low)];
        Tasks =
        [
            .. Program
                .Answers.GroupBy(a => (a.Task.Name, a.Variant.Name))
                .Select(g => new TaskPlan(
                    g.First().Task,
                    [.. g.GroupBy(a => a.Trial).OrderBy(t => t.Key).Select(t => t.ToList())]
                )),
        ];
    }

    public Protocol Protocol { get; }

    public ScoringProgram Program { get; }

    /// <summary>The lower bound of every field.</summary>
    public long[] Lows { get; }

    /// <summary>In giving order, a side or place being a task of its own.</summary>
    public IReadOnlyList<TaskPlan> Tasks { get; }

    public bool HasShortForm => Protocol.HasShortForm && Program.Fields[Program.FormField].High >= 1;

    public ProgramField FieldOf(AnswerSlot answer) => Program.Fields[answer.ValueField];

    /// <summary>The age a flawless child is given: the protocol's first.</summary>
    public long FirstAge => Math.Clamp(Protocol.Ages.From.Months, AgeBounds.Low, AgeBounds.High);

    public ProgramField AgeBounds => Program.Fields[Program.AgeField];

    public bool IsOnForm(TaskPlan task, long[] fields) =>
        fields[Program.FormField] == 0 || task.Task.ShortForm;

    /// <summary>
    /// The best answer: the end that is better; an answer with no better end starts at its lower bound,
    /// a choice at its first option.
    /// </summary>
    public long Best(AnswerSlot answer)
    {
        var bounds = FieldOf(answer);
        return BetterOf(answer.Response) == Better.Higher ? bounds.High : bounds.Low;
    }

    public static Better BetterOf(Response response) =>
        response.Better == Better.Unstated && response.Scale is { } scale ? scale.Better : response.Better;

    /// <summary>Whether a trial after the first is due, from the one before it (core.md R10).</summary>
    /// <param name="before">The same for the trial before.</param>
    public static Need NeedAfter(TaskPlan task, int trial, Need before, long[] fields)
    {
        if (task.Task.Trials.FurtherWhen is not { } further || before == Need.Needless)
        {
            return before;
        }

        var decides = task.Trials[trial - 1].First(a => a.Response.Name == further.Response);
        var state = (State)fields[decides.StateField];
        if (state != State.Known)
        {
            return Need.MayBeGiven;
        }

        var limit = StepsBelow(decides.Response, further.Below);
        return fields[decides.ValueField] < limit ? Need.Due : Need.Needless;
    }

    /// <summary>How many values of the field, counted from 0, lie below a number of points or units.</summary>
    private static long StepsBelow(Response response, Rational below)
    {
        if (response.Scale is { } scale)
        {
            return scale.Levels.Count(l => l.Points < below);
        }

        var steps = below / response.Step;
        var whole = BigInteger.DivRem(steps.Numerator, steps.Denominator, out var rest);
        return (long)(rest.Sign > 0 ? whole + 1 : whole);
    }
}

/// <summary>A task, or one side or place of it, with the answers of each trial.</summary>
internal sealed record TaskPlan(ProtocolTask Task, IReadOnlyList<IReadOnlyList<AnswerSlot>> Trials);

/// <summary>How it stands with a trial on a sheet.</summary>
internal enum Need
{
    Due,

    /// <summary>The trial before was untried: this one may be there or not.</summary>
    MayBeGiven,
    Needless,
}
