using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>What a task's trials are kept by: one of its answers, or a measure of them.</summary>
internal sealed class KeepCriteria(
    Declarations declared,
    ProgramBuilder program,
    NameLookup names,
    AnswerLowering answers,
    OutcomeLowering outcomes,
    DiagnosticBag diagnostics
)
{
    /// <summary>The measure its trials are kept by; null where it is an answer or nothing.</summary>
    public OutcomeBlock? MeasureOf(BoundTask bound) =>
        bound.KeepBy is { } by && AnswerOf(bound.Task, by) is null
            ? declared.Values.Find(by.Text) as OutcomeBlock
            : null;

    private static Response? AnswerOf(ProtocolTask task, Word name)
    {
        foreach (var response in task.Responses)
        {
            if (response.Name == name.Text)
            {
                return response;
            }
        }

        return null;
    }

    /// <summary>What decides between trials: an answer of the task, or a measure of its answers worked out per trial.</summary>
    public Func<int, (IntExpr, IReadOnlyList<IntExpr>)>? Of(BoundTask bound, Word by, Variant variant)
    {
        var task = bound.Task;
        if (AnswerOf(task, by) is { } response)
        {
            if (response.HasOptions)
            {
                diagnostics.Report(
                    bound.KeepSource,
                    by.Place,
                    NumberMessages.NotANumber(by.Text, response.Options[0].Name)
                );
                return null;
            }

            var group = answers.Find(task.Name, response.Name, variant.Name)!;
            names.ReadKeys.Add(group.Key);
            return trial => (group.Trials[trial - 1].Value, [group.Trials[trial - 1].State]);
        }

        if (declared.Values.Find(by.Text) is not OutcomeBlock block)
        {
            ReportKeepBy(bound, by);
            return null;
        }

        if (task.VariantKind != VariantKind.None)
        {
            diagnostics.Report(
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
        var nearest = diagnostics.Nearest(
            by.Text,
            known.Concat(declared.Outcomes.Where(o => !o.IsScore).Select(o => o.Name.Text))
        );
        var isForgiven =
            declared.Values.IsBroken(by.Text)
            || declared.Values.IsBroken(bound.Task.Name)
            || !declared.AllFound;
        if (!isForgiven || nearest is not null)
        {
            diagnostics.Report(
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
            if (outcomes.ForTrial(block, trial, g => g.Task.Name == task.Name) is not { } value)
            {
                return null;
            }

            if (!value.IsWhole)
            {
                diagnostics.Report(
                    bound.KeepSource,
                    by.Place,
                    NumberMessages.Step(by.Text, "trials are kept by it")
                );
                return null;
            }

            var named = program.Name(
                $"{by.Text}.trial-{trial}",
                value.Low.Over,
                $"{by.Text} of trial {trial}"
            );
            var states = task
                .Responses.Select(r => answers.Find(task.Name, r.Name, "")!)
                .Where(g => value.Reads.Contains(g.Key))
                .Select(g => (IntExpr)g.Trials[trial - 1].State)
                .ToList();
            values.Add((named, states));
        }

        return trial => values[trial - 1];
    }
}
