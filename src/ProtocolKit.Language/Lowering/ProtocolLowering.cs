using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>The whole of a protocol's meaning as one core program, in the order: record, kept trials, which tasks are given, values, bands, actions.</summary>
internal sealed class ProtocolLowering
{
    private const int NamesPerTask = 24;

    private readonly Declarations _declared;
    private readonly DiagnosticBag _diagnostics;
    private readonly ProgramBuilder _program;
    private readonly TaskIndex _index;
    private readonly AnswerLowering _answers;
    private readonly ExpressionLowering _expressions;
    private readonly OutcomeLowering _outcomes;
    private readonly CutOffLowering _cutOffs;
    private readonly BandConditions _bands;
    private readonly ConditionLowering _conditions;
    private readonly RoutingLowering _routing;
    private readonly KeepCriteria _criteria;
    private readonly KeptTrialLowering _kept;
    private readonly StepLog _log;
    private ActionLowering? _actions;
    private int _headline;
    private IReadOnlyList<ClaimLines> _claims = [];

    public ProtocolLowering(
        Declarations declared,
        VocabularyBinder vocabulary,
        BoundHeader header,
        IReadOnlyList<BoundTask> tasks,
        IReadOnlyList<HistoryQuestion> history,
        WorkLimit work,
        DiagnosticBag diagnostics
    )
    {
        _declared = declared;
        Tasks = tasks;
        _diagnostics = diagnostics;
        _program = new ProgramBuilder(NamesPerTask * tasks.Count);
        var plain = tasks.Select(t => t.Task).ToList();
        _answers = new AnswerLowering(_program, plain, header.ShortFormMinutes is not null);
        _index = new TaskIndex(plain);
        Names = new NameLookup(_index, _answers, declared, diagnostics);
        _expressions = new ExpressionLowering(_program, Names, _index, _answers, work, diagnostics);
        _outcomes = new OutcomeLowering(
            _program,
            _expressions,
            declared,
            _answers,
            header.Ages,
            work,
            diagnostics
        );
        _bands = new BandConditions(_answers, _program, declared, work, diagnostics);
        _conditions = new ConditionLowering(_expressions, Names, _bands, _answers, declared, diagnostics);
        _expressions.Conditions = _conditions;
        _routing = new RoutingLowering(
            _program,
            _answers,
            _expressions,
            _conditions,
            declared,
            tasks,
            history,
            diagnostics
        );
        _conditions.SidesOf = _outcomes.SidesOf;
        _cutOffs = new CutOffLowering(
            _program,
            _answers,
            _outcomes,
            vocabulary,
            declared,
            header.Ages,
            !header.Incomplete,
            diagnostics
        );
        _criteria = new KeepCriteria(declared, _program, Names, _answers, _outcomes, diagnostics);
        _kept = new KeptTrialLowering(_program, _answers);
        _log = new StepLog(_program, Names, _outcomes.Read, work, diagnostics);
    }

    public NameLookup Names { get; }

    /// <summary>In giving order; as last read where their words were edited.</summary>
    public IReadOnlyList<BoundTask> Tasks { get; set; }

    /// <summary>The steps that can be taken anew; complete once all was lowered without an error.</summary>
    public RuleSteps Steps { get; } = new();

    public ScoringProgram Lower()
    {
        foreach (var task in Tasks)
        {
            if (_criteria.MeasureOf(task) is { } by)
            {
                Steps.Kept[task.Task.Name] = (by.Name.Text, _log.Take(() => Keep(task, _kept)));
            }
            else
            {
                Keep(task, _kept);
            }
        }

        var routed = _routing.Route(_kept.Kept);
        foreach (var block in OutcomeOrder.Of(_declared.Outcomes))
        {
            Steps.Outcomes.Add((block, _log.Take(() => _outcomes.Lower(block))));
        }

        foreach (var block in _declared.CutOffs)
        {
            Steps.Tables.Add((block, _log.Take(() => Table(block))));
        }

        Steps.End = _log.Take(LowerEnd);
        Steps.AreApart = !_outcomes.IsNested && _routing.IsIdle;
        return new ScoringProgram
        {
            Fields = _program.Fields,
            Lines = _program.Lines,
            AgeField = _answers.Age.Field,
            FormField = _answers.Form.Field,
            Answers = _answers.Slots,
            Observations = _answers.Observations,
            History = _answers.History,
            Giving = _routing.Lines,
            Kept = routed,
            Outcomes = [.. _outcomes.Lines],
            Bands = [.. _cutOffs.Lines],
            Actions = _actions!.Lines,
            HeadlineLine = _headline,
            Claims = _claims,
        };
    }

    private void Table(CutOffsBlock block)
    {
        if (_cutOffs.Lower(block) is { } table)
        {
            _bands.Add(table);
        }
    }

    /// <summary>Actions and claims: they may ask for bands.</summary>
    private void LowerEnd()
    {
        _bands.IsReady = true;
        _conditions.Actions = null;
        _actions = new ActionLowering(_program, _conditions, _bands, ScopeOf, _diagnostics);
        _headline = _actions.Lower(_declared.Actions);
        _claims = _actions.Claims(_declared.Claims);
    }

    /// <summary>Begins an edit: what was handed out stays as it was.</summary>
    public void BeginAgain(Undo undo)
    {
        _program.Copy(undo);
        _bands.IsReady = false;
        undo.Add(() => _bands.IsReady = true);
    }

    /// <summary>
    /// A task under another name, where nothing else of it is another for rules. False where its names can't be put right one
    /// by one. What was read of it before is still read under its old name: see <see cref="MoveReadings"/>.
    /// </summary>
    public bool Rename(BoundTask old, BoundTask anew, IReadOnlyList<BoundTask> tasks, Undo undo)
    {
        var (before, then) = (old.Task.Name, anew.Task.Name);
        var fields = _answers.FieldsOf(old.Task);
        if (!_program.Rename(before, then, fields, Steps.Begin, undo))
        {
            return false;
        }

        Put(tasks, undo);
        _answers.Rename(before, anew.Task, undo);
        _kept.Rename(before, anew.Task, undo);
        Steps.Rename(before, then, undo);
        return true;
    }

    /// <summary>
    /// A task whose answers have other limits, steps or options, or are kept by another rule, in the same fields. Rules that read
    /// it have to be lowered anew. False where its trials are not kept in the same lines.
    /// </summary>
    public bool Reshape(BoundTask old, BoundTask anew, IReadOnlyList<BoundTask> tasks, Undo undo)
    {
        Put(tasks, undo);
        _answers.Reshape(anew.Task, undo);
        var name = anew.Task.Name;
        var kept = KeepInPlace(old, anew, undo);
        var isKeptAlike =
            _routing.IsIdle
            && !_program.HasMisfit
            && old.KeepBy?.Text == anew.KeepBy?.Text
            && kept.Kept.Select(LinesOf)
                .SequenceEqual(_kept.Kept.Where(k => k.Task.Name == name).Select(LinesOf));
        if (isKeptAlike && kept.Kept.Count > 0)
        {
            _kept.Replace(name, kept.Kept, undo);
        }

        return isKeptAlike || _diagnostics.HasErrors;
    }

    /// <summary>
    /// Another reading of a task, or none, for what rules say of it: what comes out is no program and has to be undone.
    /// </summary>
    public void Mistake(BoundTask old, BoundTask? anew, IReadOnlyList<BoundTask> tasks, Undo undo)
    {
        Put(tasks, undo);
        _answers.Exchange(old.Task, anew?.Task, undo);
        if (anew is not null)
        {
            KeepInPlace(old, anew, undo);
        }
    }

    /// <summary>A task's trials, in the place of the lines in which they were kept.</summary>
    private KeptTrialLowering KeepInPlace(BoundTask old, BoundTask anew, Undo undo)
    {
        var name = anew.Task.Name;
        var kept = new KeptTrialLowering(_program, _answers);
        var isStep = Steps.Kept.TryGetValue(name, out var by);
        var step = _log.Again(isStep ? by.Step : Kept(old), () => Keep(anew, kept), undo);
        if (isStep)
        {
            undo.Add(() => Steps.Kept[name] = by);
            Steps.Kept[name] = (by.Measure, step);
        }

        return kept;
    }

    /// <summary>What was done where no measure decides: the task's lines, and readings of the answer that does.</summary>
    private LoweringStep Kept(BoundTask task)
    {
        var (from, to) = _program.LinesOf($"kept.{task.Task.Name}.", Steps.Begin);
        var answers = AnswerIndex.KeysOf(task.Task, r => r.Name == task.KeepBy?.Text);
        return new LoweringStep(from, to, [.. answers], [], [], 0, []);
    }

    /// <summary>The same tasks, named or put together otherwise.</summary>
    public void Put(IReadOnlyList<BoundTask> tasks, Undo undo)
    {
        var before = Tasks;
        undo.Add(() => Tasks = before);
        Tasks = tasks;
        _index.Replace([.. tasks.Select(t => t.Task)], undo);
    }

    /// <summary>After rules that read a renamed task were lowered anew: what is left was read by no rule but the task itself.</summary>
    public void MoveReadings(ProtocolTask old, ProtocolTask anew, Undo undo)
    {
        foreach (var (key, then) in AnswerIndex.KeysOf(old).Zip(AnswerIndex.KeysOf(anew)))
        {
            Names.ReadKeys.Move(key, then, undo);
        }
    }

    public bool HasMisfit => _program.HasMisfit;

    /// <summary>What other rules know of a measure or score; null where it had a mistake.</summary>
    public (Outcome Outcome, Value Value)? Known(string outcome) => _outcomes.Known(outcome);

    /// <summary>A task's kept trials anew; false where they are not in the same lines.</summary>
    public bool KeepAgain(string task, ref LoweringStep step, Undo undo)
    {
        var bound = Tasks.First(t => t.Task.Name == task);
        var groups = Groups(bound);
        var before = groups.ConvertAll(g => g.Kept);
        undo.Add(() => groups.Zip(before).ToList().ForEach(g => g.First.Kept = g.Second));
        var kept = new KeptTrialLowering(_program, _answers);
        step = _log.Again(step, () => Keep(bound, kept), undo);
        return _routing.IsIdle
            && groups.Select(g => g.Kept).SequenceEqual(before)
            && kept.Kept.Select(LinesOf)
                .SequenceEqual(_kept.Kept.Where(k => k.Task.Name == task).Select(LinesOf));
    }

    private static (string, int, int, int, int, Rational?) LinesOf(KeptLines kept) =>
        (kept.Key, kept.StateLine, kept.LowLine, kept.HighLine, kept.TrialLine, kept.Step);

    private List<AnswerGroup> Groups(BoundTask bound) =>
        [
            .. bound.Task.Variants.SelectMany(v =>
                bound.Task.Responses.Select(r => _answers.Find(bound.Task.Name, r.Name, v.Name)!)
            ),
        ];

    /// <summary>A measure or score anew; null after reporting.</summary>
    public OutcomeLines? OutcomeAgain(string old, OutcomeBlock block, ref LoweringStep step, Undo undo)
    {
        OutcomeLines? lines = null;
        step = _log.Again(step, () => lines = _outcomes.Again(old, block, undo), undo);
        return lines;
    }

    /// <summary>A table anew; null after reporting.</summary>
    public BandLine? TableAgain(
        int index,
        CutOffsBlock old,
        CutOffsBlock block,
        ref LoweringStep step,
        Undo undo
    )
    {
        BandLine? line = null;
        step = _log.Again(
            step,
            () =>
            {
                if (_cutOffs.Again(old, block, undo) is var (made, table))
                {
                    _bands.Replace(index, table, undo);
                    line = made;
                }
            },
            undo
        );
        return line;
    }

    /// <summary>A measure or score that is there no more.</summary>
    public void Forget(string outcome, Undo undo) => _outcomes.Forget(outcome, undo);

    /// <summary>A table whose heading names nothing any more.</summary>
    public void RemoveTable(int index, Undo undo) => _bands.Remove(index, undo);

    /// <summary>Actions and claims anew.</summary>
    public (IReadOnlyList<ActionLines> Actions, int Headline, IReadOnlyList<ClaimLines> Claims) EndAgain(
        ref LoweringStep step,
        Undo undo
    )
    {
        var (actions, headline, claims) = (_actions, _headline, _claims);
        undo.Add(() => (_actions, _headline, _claims) = (actions, headline, claims));
        _program.CutBack(step.From, undo);
        _bands.ForgetConditions();
        step = _log.AtEnd(step, LowerEnd, undo);
        return (_actions!.Lines, _headline, _claims);
    }

    public ScoringProgram LinesIn(ScoringProgram program) =>
        program with
        {
            Fields = _program.Fields,
            Lines = _program.Lines,
        };

    public IReadOnlyList<ReTest> ReTests() => new ReTestLowering(_declared, _outcomes, _diagnostics).Lower();

    private LoweringScope ScopeOf(SourceText source) =>
        new(
            source,
            group => _expressions.KeptValue(group),
            (name, place) => _outcomes.ValueOf(name, place, source)
        );

    private void Keep(BoundTask bound, KeptTrialLowering kept)
    {
        var task = bound.Task;
        foreach (var variant in task.Variants)
        {
            kept.Lower(
                task,
                variant,
                bound.KeepBy is null ? null : _criteria.Of(bound, bound.KeepBy, variant)
            );
        }
    }
}
