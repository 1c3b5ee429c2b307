using ProtocolKit.Model;

namespace ProtocolKit.TestPrograms;

/// <summary>Builds a protocol with a program of one's own, line by line.</summary>
internal sealed class ProgramBuilder
{
    private readonly List<ProgramField> _fields = [];
    private readonly List<ProgramLine> _lines = [];
    private readonly List<AnswerSlot> _answers = [];
    private readonly List<ObservationSlot> _observations = [];
    private readonly List<KeptLines> _kept = [];
    private readonly List<OutcomeLines> _outcomes = [];
    private readonly List<BandLine> _bands = [];
    private readonly List<ActionLines> _actions = [];
    private readonly List<ProtocolTask> _tasks = [];

    public ProgramBuilder()
    {
        Age = Field("age", 0, 2399, "completed months");
        Form = Field("form", 0, 1, "0 full, 1 short");
    }

    public string Name { get; init; } = "tiny";

    public string Title { get; init; } = "Tiny";

    public bool HasShortForm { get; init; }

    public AgeRange Ages { get; init; } = new(new Age(48), new Age(71));

    public IntExpr Age { get; }

    public IntExpr Form { get; }

    public int HeadlineLine { get; set; } = -1;

    public IntExpr Field(string name, long low, long high, string note = "")
    {
        _fields.Add(new ProgramField(name, low, high, note));
        return new FieldValue(_fields.Count - 1, low, high);
    }

    public IntExpr Line(string name, IntExpr value, string note = "")
    {
        _lines.Add(new ProgramLine(name, value, null, note));
        return new LineValue(_lines.Count - 1, value.Low, value.High);
    }

    public BoolExpr Line(string name, BoolExpr condition, string note = "")
    {
        _lines.Add(new ProgramLine(name, null, condition, note));
        return new LineCondition(_lines.Count - 1);
    }

    /// <summary>Adds a task and a field and a state for each of its answers.</summary>
    public ProtocolTask Task(ProtocolTask task)
    {
        _tasks.Add(task);
        foreach (var variant in task.Variants)
        {
            for (var trial = 1; trial <= task.Trials.Count; trial++)
            {
                foreach (var response in task.Responses)
                {
                    AddAnswer(task, response, variant, trial);
                }
            }

            foreach (var tick in task.Ticks)
            {
                var key = Key(task.Name, tick.Observation.Name, variant.Name);
                Field(key, 0, 2, "0 not looked, 1 looked, 2 seen");
                _observations.Add(
                    new ObservationSlot(key, task, tick.Observation, variant, _fields.Count - 1)
                );
            }
        }

        return task;
    }

    /// <summary>A task with one number, named <c>name.q</c>; gives its value.</summary>
    public IntExpr Number(string name, long low, long high)
    {
        Task(
            new ProtocolTask
            {
                Name = name,
                Title = name,
                Number = _tasks.Count + 1,
                ShortForm = true,
                Variants = [new Variant("", "", [], [])],
                Trials = new TrialPlan(1, Keep.Only, null, null),
                Responses =
                [
                    new Response
                    {
                        Name = "q",
                        Kind = ResponseKind.Quantity,
                        Low = low,
                        High = high,
                        Better = Better.Higher,
                    },
                ],
            }
        );
        return Value($"{name}.q");
    }

    public AnswerSlot Answer(string key) => _answers.First(a => a.Key == key);

    public IntExpr Value(string key) => FieldAt(Answer(key).ValueField);

    public IntExpr StateOf(string key) => FieldAt(Answer(key).StateField);

    public IntExpr Observation(string key) => FieldAt(_observations.First(o => o.Key == key).Field);

    public void Kept(string answer, IntExpr state, IntExpr low, IntExpr high)
    {
        var slot = Answer(answer);
        var key = Key(slot.Task.Name, slot.Response.Name, slot.Variant.Name);
        _kept.Add(
            new KeptLines(key, slot.Task, slot.Response, slot.Variant, At(state), At(low), At(high), -1)
        );
    }

    public Outcome Outcome(
        string name,
        (IntExpr State, IntExpr Low, IntExpr High) lines,
        Rational scale,
        Rational? step,
        IReadOnlyList<string> reads,
        (IntExpr Low, IntExpr High)? by = null
    )
    {
        var outcome = new Outcome(name, name, true, "", Unit.One, step, 0, 0, null, Origin.None);
        _outcomes.Add(
            new OutcomeLines(
                outcome,
                At(lines.State),
                At(lines.Low),
                At(lines.High),
                by is { } b ? At(b.Low) : -1,
                by is { } c ? At(c.High) : -1,
                scale,
                reads
            )
        );
        return outcome;
    }

    public void Band(CutOffTable table, IntExpr line) => _bands.Add(new BandLine(table, At(line)));

    public void Action(string name, BoolExpr applies, BoolExpr appliesNot) =>
        _actions.Add(
            new ActionLines(
                new ProtocolAction(name, name, null, false, [], Origin.None),
                ((LineCondition)applies).Line,
                ((LineCondition)appliesNot).Line
            )
        );

    public static int At(IntExpr line) => ((LineValue)line).Line;

    public Protocol Build() =>
        new()
        {
            Name = Name,
            Title = Title,
            Edition = "1.0",
            Ages = Ages,
            ShortFormMinutes = HasShortForm ? 10 : null,
            Tasks = _tasks,
            Outcomes = [.. _outcomes.Select(o => o.Outcome)],
            CutOffs = [.. _bands.Select(b => b.Table)],
            Actions = [.. _actions.Select(a => a.Action)],
            Fingerprints = new Fingerprints("00000000000000f0", "00000000000000a0", "0000000000000010"),
            Program = new ScoringProgram
            {
                Fields = _fields,
                Lines = _lines,
                AgeField = 0,
                FormField = 1,
                Answers = _answers,
                Observations = _observations,
                Kept = _kept,
                Outcomes = _outcomes,
                Bands = _bands,
                Actions = _actions,
                HeadlineLine = HeadlineLine,
                Claims = [],
            },
        };

    private static string Key(params string[] parts) => string.Join('.', parts.Where(p => p.Length > 0));

    private FieldValue FieldAt(int field) => new FieldValue(field, _fields[field].Low, _fields[field].High);

    private void AddAnswer(ProtocolTask task, Response response, Variant variant, int trial)
    {
        var key = Key(
            task.Name,
            response.Name,
            variant.Name,
            task.Trials.Count > 1 ? FormattableString.Invariant($"trial-{trial}") : ""
        );
        var (low, high) = Bounds(response);
        Field(key, low, high);
        Field(key + ".state", 0, 8);
        _answers.Add(
            new AnswerSlot(key, task, response, variant, trial, _fields.Count - 2, _fields.Count - 1)
        );
    }

    private static (long Low, long High) Bounds(Response response)
    {
        if (response.HasOptions)
        {
            return (0, response.Options.Count - 1);
        }

        if (response.Scale is { } scale)
        {
            return (0, scale.Levels.Count - 1);
        }

        response.Low.TryCountSteps(response.Step, out var low);
        response.High.TryCountSteps(response.Step, out var high);
        return ((long)low, (long)high);
    }
}
