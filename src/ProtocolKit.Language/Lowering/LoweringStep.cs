using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// What lowering one rule came to: a task's trials kept by a measure, a measure or score, a table, or actions with claims.
/// Whoever lowers it anew needs to know what it made and what it read.
/// </summary>
/// <param name="From">Its first line of the program.</param>
/// <param name="To">The line after its last.</param>
/// <param name="Answers">Keys of answers it names.</param>
/// <param name="Signs">Observations it asks about, by task.</param>
/// <param name="Outcomes">Measures and scores it reads.</param>
/// <param name="Spent">Its part of the <see cref="WorkLimit"/>.</param>
internal sealed record LoweringStep(
    int From,
    int To,
    IReadOnlyList<string> Answers,
    IReadOnlyList<(string Task, string Observation)> Signs,
    IReadOnlyList<string> Outcomes,
    long Spent,
    IReadOnlyList<Diagnostic> Found
);

/// <summary>Watches steps of lowering.</summary>
internal sealed class StepLog(
    ProgramBuilder program,
    NameLookup names,
    ReadLog<string> outcomes,
    WorkLimit work,
    DiagnosticBag diagnostics
)
{
    public LoweringStep Take(Action lower)
    {
        var line = program.Lines.Count;
        var (answers, signs, read) = (names.ReadKeys.Count, names.ReadObservations.Count, outcomes.Count);
        var (spent, found) = (work.Spent, diagnostics.Found.Count);
        lower();
        return new LoweringStep(
            line,
            program.Lines.Count,
            names.ReadKeys.Since(answers),
            names.ReadObservations.Since(signs),
            outcomes.Since(read),
            work.Spent - spent,
            found == diagnostics.Found.Count ? [] : [.. diagnostics.Found.Skip(found)]
        );
    }

    /// <summary>
    /// The same step again, its lines in the place of the old ones. Where they don't fit there,
    /// <see cref="ProgramBuilder.HasMisfit"/> is set.
    /// </summary>
    public LoweringStep Again(LoweringStep old, Action lower, Undo undo)
    {
        program.Replace(old.From, old.To);
        var made = AtEnd(old, lower, undo) with { From = old.From, To = old.To };
        program.EndReplace();
        return made;
    }

    /// <summary>The last step again, after its lines were dropped.</summary>
    public LoweringStep AtEnd(LoweringStep old, Action lower, Undo undo)
    {
        var spent = work.Spent;
        undo.Add(() => work.Spent = spent);
        work.Spent -= old.Spent;
        Read(old, -1);
        undo.Add(() => Read(old, 1));
        var made = Take(lower);
        undo.Add(() => Read(made, -1));
        return made;
    }

    private void Read(LoweringStep step, int by)
    {
        names.ReadKeys.Change(step.Answers, by);
        names.ReadObservations.Change(step.Signs, by);
        outcomes.Change(step.Outcomes, by);
    }
}
