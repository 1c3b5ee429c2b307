using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>The fields of one answer at one trial.</summary>
internal sealed record TrialAnswer(FieldValue Value, FieldValue State);

/// <summary>One answer of one side: its trials and, once lowered, the kept one.</summary>
internal sealed class AnswerGroup(ProtocolTask task, Response response, Variant variant)
{
    public ProtocolTask Task => task;
    public Response Response => response;
    public Variant Variant => variant;

    /// <summary>Laid out with the record.</summary>
    public TrialAnswer[] Trials { get; } = new TrialAnswer[task.Trials.Count];

    /// <summary>Set when the kept trial is lowered, and once more where routing may keep the task from being given.</summary>
    public KeptAnswer? Kept { get; set; }

    /// <summary>A skip or a stop made it not applicable; null where none can.</summary>
    public BoolExpr? LeftOut { get; set; }

    public string Key { get; } = KeyOf(task, response, variant);

    public static string KeyOf(ProtocolTask task, Response response, Variant variant) =>
        variant.Name.Length == 0
            ? $"{task.Name}.{response.Name}"
            : $"{task.Name}.{response.Name}.{variant.Name}";

    /// <summary>The same fields, trials and lines under another name of the task.</summary>
    public AnswerGroup As(ProtocolTask anew, Response same, Variant side)
    {
        var group = new AnswerGroup(anew, same, side) { Kept = Kept, LeftOut = LeftOut };
        Trials.CopyTo(group.Trials, 0);
        return group;
    }

    /// <summary>Its key alone, as what a value rests on.</summary>
    public IReadOnlySet<string> Keys => field ??= new HashSet<string>(1, StringComparer.Ordinal) { Key };
}

/// <summary>State (with untried codes) and both ends in the encoding of the value's field, or in steps of its own.</summary>
internal sealed record KeptAnswer(IntExpr State, IntExpr Low, IntExpr High)
{
    /// <summary>The steps the ends count in; null: they are encoded as the field is.</summary>
    public KeptSteps? Steps { get; init; }
}

/// <param name="Step">In points or in the answer's unit.</param>
/// <param name="Low">The least it can be, in steps.</param>
internal sealed record KeptSteps(Rational Step, long Low, long High);

/// <summary>Lays out the record: age, form, then answers and observations in giving order.</summary>
internal sealed class AnswerLowering
{
    private readonly ProgramBuilder _program;
    private readonly AnswerIndex _index;
    private readonly List<AnswerSlot> _slots;
    private readonly Dictionary<(string Task, string Variant), HelpAnswers> _help = [];
    private readonly Dictionary<string, string> _scaleNotes = new(StringComparer.Ordinal);
    private readonly List<ObservationSlot> _observations = [];
    private readonly Dictionary<int, BoolExpr> _notLookedFor = [];
    private readonly List<HistorySlot> _history = [];

    public AnswerLowering(ProgramBuilder program, IReadOnlyList<ProtocolTask> tasks, bool hasShortForm)
    {
        _program = program;
        _index = new AnswerIndex(
            tasks.Sum(t => t.Responses.Count * t.Variants.Count),
            tasks.Sum(t => t.Ticks.Count * t.Variants.Count)
        );
        _slots = new(tasks.Sum(t => t.Responses.Count * t.Variants.Count * t.Trials.Count));
        HasShortForm = hasShortForm;
        Age = program.Field("age", 0, 1200, "completed months");
        Form = program.Field("form", 0, hasShortForm ? 1 : 0, "0 full, 1 short");
        foreach (var task in tasks)
        {
            foreach (var variant in task.Variants)
            {
                Lay(task, variant);
            }
        }
    }

    public bool HasShortForm { get; }
    public FieldValue Age { get; }
    public FieldValue Form { get; }
    public IReadOnlyList<AnswerSlot> Slots => _slots;
    public IReadOnlyList<ObservationSlot> Observations => _observations;
    public IReadOnlyList<HistorySlot> History => _history;

    public AnswerGroup? Find(string task, string response, string variant) =>
        _index.Find(task, response, variant);

    /// <summary>Which help was given and what came of it; null where help has no cost.</summary>
    public HelpAnswers? HelpOf(ProtocolTask task, Variant variant) =>
        _help.GetValueOrDefault((task.Name, variant.Name));

    /// <summary>By <c>task.response[.side]</c>.</summary>
    public AnswerGroup Of(string key) => _index.Of(key);

    public FieldValue? FindObservation(string task, string observation, string variant) =>
        _index.FindObservation(task, observation, variant);

    /// <summary>The fields that are named after a task.</summary>
    public IEnumerable<int> FieldsOf(ProtocolTask task) => _index.FieldsOf(task);

    /// <summary>A task under another name, its fields and what is known of them the same; help with a cost is not asked for.</summary>
    public void Rename(string old, ProtocolTask anew, Undo undo) => _index.Rename(old, anew, undo);

    /// <summary>A task whose answers have other limits, steps or options, in the same fields.</summary>
    public void Reshape(ProtocolTask anew, Undo undo)
    {
        foreach (var group in _index.Reshape(anew, undo))
        {
            _program.Bound(group.Trials.Select(t => (t.Value, NoteOf(group.Response))), undo);
        }
    }

    /// <summary>
    /// A task's answers and signs taken out, and those of another reading put in, in fields that no record has: for what rules say
    /// of them, and to be undone.
    /// </summary>
    public void Exchange(ProtocolTask old, ProtocolTask? anew, Undo undo) =>
        _index.Exchange(old, anew, _program.Fields.Count, undo);

    /// <summary>True where the answer may be not applicable: it is outside the form, or left out.</summary>
    public bool MayBeAbsent(AnswerGroup group) =>
        (HasShortForm && !group.Task.ShortForm) || group.LeftOut is not null;

    /// <summary>The task isn't part of the form in use.</summary>
    public BoolExpr OutsideForm(ProtocolTask task) =>
        HasShortForm && !task.ShortForm ? Bools.Equal(Form, 1) : Bools.False;

    /// <summary>
    /// Where looking for a sign doesn't apply: outside the form, or at a task that routing leaves out. One that is ticked there all
    /// the same is no sign.
    /// </summary>
    public BoolExpr NotLookedFor(ProtocolTask task, FieldValue sign) =>
        _notLookedFor.GetValueOrDefault(sign.Field) ?? OutsideForm(task);

    public void LeaveOutSigns(ProtocolTask task, Variant variant, BoolExpr when)
    {
        foreach (var slot in _observations.Where(o => o.Task == task && o.Variant == variant))
        {
            _notLookedFor[slot.Field] = when;
        }
    }

    /// <summary>Some answer may be left out.</summary>
    public bool MayLeaveOut { get; set; }

    /// <summary>Whether a skip or a stop left out any of these answers.</summary>
    public BoolExpr AnyLeftOut(IEnumerable<string> keys) =>
        !MayLeaveOut
            ? Bools.False
            : Bools.Any(
                keys.Order(StringComparer.Ordinal)
                    .Select(k => _index.FindKey(k)?.LeftOut)
                    .OfType<BoolExpr>()
                    .Distinct(ReferenceEqualityComparer.Instance)
                    .Cast<BoolExpr>()
            );

    /// <summary>A yes or no of the case history that decides whether tasks are given.</summary>
    public FieldValue LayHistory(HistoryQuestion question)
    {
        var field = _program.Field($"history.{question.Name}", 0, 1, "0 no, 1 yes");
        _history.Add(new HistorySlot(question, field.Field));
        return field;
    }

    private void Lay(ProtocolTask task, Variant variant)
    {
        foreach (var response in task.Responses)
        {
            var group = new AnswerGroup(task, response, variant);
            Lay(group);
            _index.Add(group);
        }

        if (task.HelpHasCost() && task.Responses.Any(r => r.Kind == ResponseKind.Rating))
        {
            _help[(task.Name, variant.Name)] = HelpAnswers.Lay(_program, _slots, task, variant);
        }

        var side = variant.Name.Length == 0 ? "" : "." + variant.Name;
        foreach (var tick in task.Ticks)
        {
            var key = $"{task.Name}.{tick.Observation.Name}{side}";
            var field = _program.Field(key, 0, 2, "0 not looked, 1 looked and not seen, 2 seen");
            _observations.Add(new ObservationSlot(key, task, tick.Observation, variant, field.Field));
            _index.Add(task, tick.Observation, variant, field);
        }
    }

    /// <summary>Most answers of a protocol share a few scales.</summary>
    private string NoteOf(Response response)
    {
        if (response.Scale is not { } scale)
        {
            return Encoding.Note(response);
        }

        if (!_scaleNotes.TryGetValue(scale.Name, out var note))
        {
            _scaleNotes[scale.Name] = note = Encoding.Note(response);
        }

        return note;
    }

    private void Lay(AnswerGroup group)
    {
        var (task, response, variant) = (group.Task, group.Response, group.Variant);
        var note = NoteOf(response);
        var (low, high) = Encoding.Bounds(response);
        for (var trial = 1; trial <= group.Trials.Length; trial++)
        {
            var key =
                group.Trials.Length > 1
                    ? $"{group.Key}.trial-{trial.ToString(CultureInfo.InvariantCulture)}"
                    : group.Key;
            var value = _program.Field(key, low, high, note);
            var state = _program.Field(
                key + ".state",
                0,
                (long)State.Stopped,
                "0 answered, 1 not applicable, 2 to 8 untried"
            );
            _slots.Add(new AnswerSlot(key, task, response, variant, trial, value.Field, state.Field));
            group.Trials[trial - 1] = new TrialAnswer(value, state);
        }
    }
}

/// <summary>How an answer is a whole number: steps, the index of a level from the lowest, or of an option.</summary>
internal static class Encoding
{
    public static (long Low, long High) Bounds(Response response) =>
        response.Kind switch
        {
            ResponseKind.Rating => (0, response.Scale!.Levels.Count - 1),
            _ when response.HasOptions => (0, response.Options.Count - 1),
            _ => (
                (long)(response.Low / response.Step).Numerator,
                (long)(response.High / response.Step).Numerator
            ),
        };

    public static string Note(Response response) =>
        response.Kind switch
        {
            ResponseKind.Rating => "levels "
                + string.Join(", ", response.Scale!.Levels.Reverse().Select((l, i) => $"{i} for {l.Points}")),
            _ when response.HasOptions => "options "
                + string.Join(", ", response.Options.Select((o, i) => $"{i} {o.Name}")),
            _ => $"steps of {response.Step} {response.Unit.Symbol}".TrimEnd(),
        };

    /// <summary>The points of a level's index in steps of the scale.</summary>
    public static IntExpr Points(Response response, IntExpr index, IntMath math)
    {
        var levels = response.Scale!.Levels;
        var lowest = Steps(0);
        for (var i = 1; i < levels.Count; i++)
        {
            if (Steps(i) != lowest + i)
            {
                return IntMath.Pick(
                    index,
                    [.. Enumerable.Range(0, levels.Count).Select(n => new PickCase(n, n, Steps(n)))]
                );
            }
        }

        return math.Add(index, IntMath.Number(lowest));

        long Steps(int level) => (long)(levels[levels.Count - 1 - level].Points / response.Step).Numerator;
    }
}
