using ProtocolKit.Model;

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
    private readonly List<Leaf> _leaves = [];
    private readonly List<(int Field, long Value)> _absent = [];
    private readonly Dictionary<(string, string), int> _tasks = [];

    public SheetParts(Protocol protocol, long form, bool untried)
    {
        (_protocol, _form, _untried) = (protocol, form, untried);
        foreach (var answer in protocol.Program.Answers)
        {
            Add(answer);
        }

        foreach (var observation in protocol.Program.Observations)
        {
            Add(observation);
        }

        _leaves.Sort((a, b) => a.ValueField.CompareTo(b.ValueField));
    }

    public IReadOnlyList<Leaf> Leaves => _leaves;

    /// <summary>Fields of tasks outside the form.</summary>
    public IReadOnlyList<(int Field, long Value)> Absent => _absent;

    /// <summary>Leaves out of the flawless sheet the trials its earlier ones make needless.</summary>
    public void Settle(long[] fields)
    {
        foreach (var answer in _protocol.Program.Answers.Where(a => a.Trial > 1 && IsOnForm(a.Task)))
        {
            if (answer.Task.Trials.FurtherWhen is { } rule && IsNeedless(answer, rule, fields))
            {
                fields[answer.StateField] = (long)State.NotApplicable;
                fields[answer.ValueField] = _protocol.Program.Fields[answer.ValueField].Low;
            }
        }
    }

    private bool IsNeedless(AnswerSlot answer, FurtherTrial rule, long[] fields)
    {
        var decides = _protocol.Program.Answers.First(a =>
            a.Task.Name == answer.Task.Name
            && a.Variant.Name == answer.Variant.Name
            && a.Trial == answer.Trial - 1
            && a.Response.Name == rule.Response
        );
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

        var mayBeNeedless = answer.Trial > 1 && answer.Task.Trials.FurtherWhen is not null;
        var states = new List<long> { 0 };
        if (mayBeNeedless)
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
                () => Fillings(answer, bounds, mayBeNeedless)
            )
        );
    }

    private IEnumerable<Filling> Fillings(AnswerSlot answer, ProgramField bounds, bool mayBeNeedless)
    {
        var given = mayBeNeedless ? 1 : 0;
        if (mayBeNeedless)
        {
            yield return new Filling(bounds.Low, (long)State.NotApplicable, 0);
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
    }

    private void Add(ObservationSlot slot)
    {
        var task = TaskOf(slot.Task, slot.Variant);
        if (!IsOnForm(slot.Task))
        {
            _absent.Add((slot.Field, 0));
            return;
        }

        Filling[] fillings = _untried
            ? [new(1, 0, 0), new(2, 0, 1), new(0, 0, 2)]
            : [new(1, 0, 0), new(2, 0, 1)];
        _leaves.Add(new Leaf(slot.Field, -1, task, 0, _untried ? 0 : 1, 2, [0], () => fillings));
    }

    internal static bool StartsHigh(Response response)
    {
        var better =
            response.Better == Better.Unstated && response.Scale is { } scale
                ? scale.Better
                : response.Better;
        return !response.HasOptions && better == Better.Higher;
    }
}
