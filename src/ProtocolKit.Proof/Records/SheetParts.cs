using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Records;

/// <summary>
/// What each part of a sheet can hold, the flawless filling first (R22): the better end of an answer, the lower bound where
/// neither end is better, a choice's first option, an observation looked for and not seen.
/// </summary>
internal sealed class SheetParts
{
    private readonly Protocol _protocol;
    private readonly long _form;
    private readonly bool _untried;
    private readonly bool _unlooked;
    private readonly List<Leaf> _leaves = [];
    private readonly List<(int Field, long Value)> _absent = [];
    private readonly Dictionary<(string, string), int> _tasks = [];
    private readonly HashSet<(string, string)> _routed;
    private readonly Lazy<List<(AnswerSlot Answer, AnswerSlot Decides)>> _further;
    private readonly Lazy<List<GivenTask>> _given;

    /// <param name="unlooked">Whether an observation of a task that is given may be missing.</param>
    public SheetParts(Protocol protocol, long form, bool untried, bool unlooked)
    {
        (_protocol, _form, _untried, _unlooked) = (protocol, form, untried, unlooked);
        (_further, _given) = (new(Further), new(Given));
        _routed = [.. protocol.Program.Giving.Select(g => (g.Task.Name, g.Variant.Name))];
        foreach (var answer in protocol.Program.Answers)
        {
            Add(answer);
        }

        foreach (var observation in protocol.Program.Observations)
        {
            Add(observation);
        }

        foreach (var slot in protocol.Program.History)
        {
            Filling[] answers = [new(0, 0, 0), new(1, 0, 1)];
            _leaves.Add(new Leaf(slot.Field, -1, _tasks.Count + slot.Field, 0, 0, 1, [0], () => answers));
        }

        _leaves.Sort((a, b) => a.ValueField.CompareTo(b.ValueField));
    }

    public IReadOnlyList<Leaf> Leaves => _leaves;

    /// <summary>Fields of tasks outside the form.</summary>
    public IReadOnlyList<(int Field, long Value)> Absent => _absent;

    /// <summary>
    /// Blanks what a sheet with these answers leaves out: needless trials, and, where asked for, tasks that routing does not give.
    /// </summary>
    /// <param name="isFree">True for fields that may be changed.</param>
    public void Settle(long[] fields, Func<int, bool> isFree)
    {
        var count = _protocol.Program.Giving.Count == 0 ? 0 : _protocol.Program.GivingEnd;
        Settle(new RunningLines(_protocol.Program, fields, count), fields, isFree);
    }

    /// <summary>The same of fields whose lines are kept up to date.</summary>
    /// <param name="lines">The program's lines beside these fields.</param>
    /// <param name="comesUp">What becomes of blank answers to a task that is given; null: they stay blank.</param>
    public void Settle(RunningLines lines, long[] fields, Func<int, bool> isFree, State? comesUp = null)
    {
        foreach (var (answer, decides) in _further.Value.Where(a => isFree(a.Answer.ValueField)))
        {
            if (IsNeedless(decides, answer.Task.Trials.FurtherWhen!, fields))
            {
                Blank(answer, State.NotApplicable, lines);
            }
        }

        if (_protocol.Program.Giving.Count == 0)
        {
            return;
        }

        // A task's line reads earlier tasks only (or, where a start point goes back, settles after a few rounds).
        var changed = true;
        for (var round = 0; changed && round <= _given.Value.Count; round++)
        {
            changed = false;
            foreach (var task in _given.Value)
            {
                changed |=
                    lines[task.Line] == 0
                        ? Leave(task, lines, fields, isFree)
                        : comesUp is { } state && Empty(task, state, lines, fields, isFree);
            }
        }
    }

    /// <summary>Blanks a task that is not given; false where nothing of it was left to blank.</summary>
    private bool Leave(GivenTask task, RunningLines lines, long[] fields, Func<int, bool> isFree)
    {
        var changed = false;
        foreach (var answer in task.Answers)
        {
            if (fields[answer.StateField] != (long)State.NotApplicable && isFree(answer.ValueField))
            {
                Blank(answer, State.NotApplicable, lines);
                changed = true;
            }
        }

        foreach (var sign in task.Signs)
        {
            if (fields[sign] != 0 && isFree(sign))
            {
                lines.Set(sign, 0);
                changed = true;
            }
        }

        return changed;
    }

    /// <summary>Leaves the answers of a task empty that was left out before; false where it has some.</summary>
    private bool Empty(GivenTask task, State state, RunningLines lines, long[] fields, Func<int, bool> isFree)
    {
        var changed = false;
        foreach (var answer in task.Answers)
        {
            if (
                answer.Trial <= 1
                && fields[answer.StateField] == (long)State.NotApplicable
                && isFree(answer.ValueField)
            )
            {
                Blank(answer, state, lines);
                changed = true;
            }
        }

        return changed;
    }

    /// <summary>Answers to trials that are given only where one before asks for them, with that one.</summary>
    private List<(AnswerSlot Answer, AnswerSlot Decides)> Further()
    {
        var slots = _protocol.Program.Answers.ToDictionary(a =>
            (a.Task.Name, a.Variant.Name, a.Trial, a.Response.Name)
        );
        return
        [
            .. _protocol
                .Program.Answers.Where(a =>
                    a.Trial > 1 && a.Task.Trials.FurtherWhen is not null && IsOnForm(a.Task)
                )
                .Select(a =>
                    (
                        a,
                        slots[(a.Task.Name, a.Variant.Name, a.Trial - 1, a.Task.Trials.FurtherWhen!.Response)]
                    )
                ),
        ];
    }

    private List<GivenTask> Given()
    {
        var answers = _protocol.Program.Answers.ToLookup(a => (a.Task.Name, a.Variant.Name));
        var signs = _protocol.Program.Observations.ToLookup(o => (o.Task.Name, o.Variant.Name), o => o.Field);
        return
        [
            .. _protocol.Program.Giving.Select(g =>
            {
                var key = (g.Task.Name, g.Variant.Name);
                return new GivenTask(g.GivenLine, [.. answers[key]], [.. signs[key]]);
            }),
        ];
    }

    private sealed record GivenTask(int Line, AnswerSlot[] Answers, int[] Signs);

    private void Blank(AnswerSlot answer, State state, RunningLines lines)
    {
        lines.Set(answer.StateField, (long)state);
        lines.Set(answer.ValueField, _protocol.Program.Fields[answer.ValueField].Low);
    }

    private static bool IsNeedless(AnswerSlot decides, FurtherTrial rule, long[] fields)
    {
        var limit = SheetConditions.Limit(decides.Response, rule.Below);
        return fields[decides.StateField] != 0 || fields[decides.ValueField] >= limit;
    }

    private bool IsOnForm(ProtocolTask task) => _form == 0 || task.ShortForm;

    private int TaskOf(ProtocolTask task, Variant variant)
    {
        var key = (task.Name, variant.Name);
        if (!_tasks.TryGetValue(key, out var number))
        {
            _tasks[key] = number = _tasks.Count;
        }

        return number;
    }

    private void Add(AnswerSlot answer)
    {
        var bounds = _protocol.Program.Fields[answer.ValueField];
        var task = TaskOf(answer.Task, answer.Variant);
        if (!IsOnForm(answer.Task))
        {
            _absent.Add((answer.ValueField, bounds.Low));
            _absent.Add((answer.StateField, (long)State.NotApplicable));
            return;
        }

        var mayBeBlank =
            _routed.Contains((answer.Task.Name, answer.Variant.Name))
            || (answer.Trial > 1 && answer.Task.Trials.FurtherWhen is not null);
        var states = new List<long> { 0 };
        if (mayBeBlank)
        {
            states.Add((long)State.NotApplicable);
        }

        if (_untried)
        {
            states.AddRange(States.Untried.Select(u => (long)u.State).Order());
        }

        _leaves.Add(
            new Leaf(
                answer.ValueField,
                answer.StateField,
                task,
                answer.Trial,
                bounds.Low,
                bounds.High,
                [.. states],
                () => Fillings(answer, bounds, mayBeBlank)
            )
            {
                Order = OrderOf(answer.Response),
                IsRouted = _routed.Contains((answer.Task.Name, answer.Variant.Name)),
                MayBeBlank = mayBeBlank,
                IsFurther = answer.Trial > 1 && answer.Task.Trials.FurtherWhen is not null,
                Owner = (answer.Task.Name, answer.Variant.Name),
            }
        );
    }

    /// <summary>A blank that routing asks for is no difference anyone made; a further trial that is given is one.</summary>
    private IEnumerable<Filling> Fillings(AnswerSlot answer, ProgramField bounds, bool mayBeBlank)
    {
        var isFurther = mayBeBlank && answer.Trial > 1 && answer.Task.Trials.FurtherWhen is not null;
        var given = isFurther ? 1 : 0;
        var blank = new Filling(bounds.Low, (long)State.NotApplicable, 0);
        if (isFurther)
        {
            yield return blank;
        }

        var width = bounds.High - bounds.Low;
        for (var off = 0L; off <= width; off++)
        {
            var value = StartsHigh(answer.Response) ? bounds.High - off : bounds.Low + off;
            yield return new Filling(value, 0, off + given);
        }

        if (_untried)
        {
            foreach (var (state, _, _) in States.Untried)
            {
                yield return new Filling(bounds.Low, (long)state, width + given + 1);
            }
        }

        if (mayBeBlank && !isFurther)
        {
            yield return blank;
        }
    }

    private void Add(ObservationSlot slot)
    {
        var task = TaskOf(slot.Task, slot.Variant);
        if (!IsOnForm(slot.Task))
        {
            _absent.Add((slot.Field, 0));
            return;
        }

        // At a task that isn't given nobody looks: where it is missing for that alone, it is no difference anyone made.
        var isRouted = _routed.Contains((slot.Task.Name, slot.Variant.Name));
        var notLooked = _untried || isRouted;
        Filling[] fillings = notLooked
            ? [new(1, 0, 0), new(2, 0, 1), new(0, 0, _unlooked ? 2 : 0)]
            : [new(1, 0, 0), new(2, 0, 1)];
        _leaves.Add(
            new Leaf(slot.Field, -1, task, 0, notLooked ? 0 : 1, 2, [0], () => fillings)
            {
                Order = -1,
                IsObservation = true,
                IsRouted = isRouted,
                MayBeBlank = isRouted,
                Owner = (slot.Task.Name, slot.Variant.Name),
            }
        );
    }

    internal static bool StartsHigh(Response response) => OrderOf(response) > 0;

    private static int OrderOf(Response response)
    {
        var better =
            response.Better == Better.Unstated && response.Scale is { } scale
                ? scale.Better
                : response.Better;
        return response.HasOptions ? 0
            : better == Better.Higher ? 1
            : better == Better.Lower ? -1
            : 0;
    }
}
