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
    private readonly IReadOnlyList<BoundTask> _tasks;
    private readonly DiagnosticBag _diagnostics;
    private readonly ProgramBuilder _program;
    private readonly AnswerLowering _answers;
    private readonly ExpressionLowering _expressions;
    private readonly OutcomeLowering _outcomes;
    private readonly CutOffLowering _cutOffs;
    private readonly BandConditions _bands;
    private readonly ConditionLowering _conditions;
    private readonly RoutingLowering _routing;

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
        _tasks = tasks;
        _diagnostics = diagnostics;
        _program = new ProgramBuilder(NamesPerTask * tasks.Count);
        var plain = tasks.Select(t => t.Task).ToList();
        _answers = new AnswerLowering(_program, plain, header.ShortFormMinutes is not null);
        Names = new NameLookup(
            plain.ToDictionary(t => t.Name, StringComparer.Ordinal),
            _answers,
            declared,
            diagnostics
        );
        _expressions = new ExpressionLowering(_program, Names, plain, _answers, work, diagnostics);
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
    }

    public NameLookup Names { get; }

    public ScoringProgram Lower()
    {
        var kept = new KeptTrialLowering(_program, _answers);
        foreach (var task in _tasks)
        {
            Keep(task, kept);
        }

        var routed = _routing.Route(kept.Kept);
        _outcomes.LowerAll();
        foreach (var block in _declared.CutOffs)
        {
            if (_cutOffs.Lower(block) is { } table)
            {
                _bands.Add(table);
            }
        }

        _bands.IsReady = true;
        var actions = new ActionLowering(_program, _conditions, _bands, ScopeOf, _diagnostics);
        var headline = actions.Lower(_declared.Actions);
        var claims = actions.Claims(_declared.Claims);
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
            Outcomes = _outcomes.Lines,
            Bands = _cutOffs.Lines,
            Actions = actions.Lines,
            HeadlineLine = headline,
            Claims = claims,
        };
    }

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
            kept.Lower(task, variant, bound.KeepBy is null ? null : Criterion(bound, bound.KeepBy, variant));
        }
    }

    /// <summary>What decides between trials: an answer of the task, or a measure of its answers worked out per trial.</summary>
    private Func<int, (IntExpr, IReadOnlyList<IntExpr>)>? Criterion(BoundTask bound, Word by, Variant variant)
    {
        var task = bound.Task;
        if (task.Responses.FirstOrDefault(r => r.Name == by.Text) is { } response)
        {
            if (response.HasOptions)
            {
                _diagnostics.Report(
                    bound.KeepSource,
                    by.Place,
                    NumberMessages.NotANumber(by.Text, response.Options[0].Name)
                );
                return null;
            }

            var group = _answers.Find(task.Name, response.Name, variant.Name)!;
            Names.ReadKeys.Add(group.Key);
            return trial => (group.Trials[trial - 1].Value, [group.Trials[trial - 1].State]);
        }

        if (_declared.Values.Find(by.Text) is not OutcomeBlock block)
        {
            ReportKeepBy(bound, by);
            return null;
        }

        if (task.VariantKind != VariantKind.None)
        {
            _diagnostics.Report(
                bound.KeepSource,
                by.Place,
                MeaningMessages.Trials(
                    $"{task.Name} is given for several sides or places, so a measure can't choose its trials.",
                    "Keep by an answer of the task."
                )
            );
            return null;
        }

        return ByMeasure(bound, by, block);
    }

    private void ReportKeepBy(BoundTask bound, Word by)
    {
        var known = bound.Task.Responses.Where(r => !r.HasOptions).Select(r => r.Name).ToList();
        var nearest = _diagnostics.Nearest(
            by.Text,
            known.Concat(_declared.Outcomes.Where(o => !o.IsScore).Select(o => o.Name.Text))
        );
        var isForgiven =
            _declared.Values.IsBroken(by.Text)
            || _declared.Values.IsBroken(bound.Task.Name)
            || !_declared.AllFound;
        if (!isForgiven || nearest is not null)
        {
            _diagnostics.Report(
                bound.KeepSource,
                by.Place,
                NameMessages.KeepBy(bound.Task.Name, by.Text, nearest, known)
            );
        }
    }

    private Func<int, (IntExpr, IReadOnlyList<IntExpr>)>? ByMeasure(
        BoundTask bound,
        Word by,
        OutcomeBlock block
    )
    {
        var task = bound.Task;
        var values = new List<(IntExpr, IReadOnlyList<IntExpr>)>();
        for (var trial = 1; trial <= task.Trials.Count; trial++)
        {
            if (_outcomes.ForTrial(block, trial, g => g.Task.Name == task.Name) is not { } value)
            {
                return null;
            }

            if (!value.IsWhole)
            {
                _diagnostics.Report(
                    bound.KeepSource,
                    by.Place,
                    NumberMessages.Step(by.Text, "trials are kept by it")
                );
                return null;
            }

            var named = _program.Name(
                $"{by.Text}.trial-{trial}",
                value.Low.Over,
                $"{by.Text} of trial {trial}"
            );
            var states = task
                .Responses.Select(r => _answers.Find(task.Name, r.Name, "")!)
                .Where(g => value.Reads.Contains(g.Key))
                .Select(g => (IntExpr)g.Trials[trial - 1].State)
                .ToList();
            values.Add((named, states));
        }

        return trial => values[trial - 1];
    }
}
