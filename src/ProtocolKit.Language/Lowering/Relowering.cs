using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// One rule's statement was edited: its step is taken anew, and those of rules to which it now looks different. A rule that rests
/// on one with a mistake says nothing, as when all is lowered.
/// </summary>
internal sealed class Relowering(
    ProtocolLowering lowering,
    ScoringProgram program,
    DiagnosticBag diagnostics,
    Undo undo
)
{
    private readonly RuleSteps _steps = lowering.Steps;

    /// <summary>Outcomes that look different to other rules, and those that have a mistake.</summary>
    private readonly HashSet<string> _changed = new(StringComparer.Ordinal);
    private readonly HashSet<string> _broken = new(StringComparer.Ordinal);

    /// <summary>Outcomes that are other objects, though they may look the same.</summary>
    private readonly HashSet<string> _made = new(StringComparer.Ordinal);
    private readonly List<Diagnostic> _before = [];

    /// <summary>The earlier name of an outcome: who names it misses it.</summary>
    private readonly HashSet<string> _missed = new(StringComparer.Ordinal);

    /// <summary>Numbers of tables whose heading names nothing any more.</summary>
    private readonly List<int> _lost = [];

    /// <summary>What came out.</summary>
    public ScoringProgram Program => lowering.LinesIn(program);

    /// <summary>False where only lowering all of it tells what comes out.</summary>
    public bool Fits { get; private set; } = true;

    /// <summary>What was found the last time by steps that were taken anew.</summary>
    public IReadOnlyList<Diagnostic> Before => _before;

    /// <summary>Answers or signs are read that were not, or the other way round.</summary>
    public bool ReadsOthers { get; private set; }

    public void Lower(Statement old, Statement anew)
    {
        lowering.BeginAgain(undo);
        if (anew is OutcomeBlock outcome)
        {
            Outcomes(((OutcomeBlock)old).Name.Text, outcome);
        }

        Tables(
            [.. _steps.Tables.Where(t => ReferenceEquals(t.Block, old)).Select(t => t.Step)],
            anew as CutOffsBlock
        );
        WithoutLost();
        var names =
            _lost.Count > 0
            || old is CutOffsBlock one && anew is CutOffsBlock other && !one.HasBandsOf(other);
        if (names || anew is ActionsBlock or ClaimBlock || Reads(_steps.End!, _changed))
        {
            End(names || Reads(_steps.End!, _missed));
        }

        Fits &= diagnostics.HasErrors || !lowering.HasMisfit;
    }

    /// <summary>Without a table whose first line can't be read any more: a mistake, so that no program comes of it.</summary>
    public void Without(CutOffsBlock table)
    {
        var index = _steps.Tables.FindIndex(t => ReferenceEquals(t.Block, table));
        _before.AddRange(_steps.Tables[index].Step.Found);
        _lost.Add(index);
        WithoutLost();
        End(names: true);
    }

    /// <summary>Without a measure or score whose line can't be read any more; what names it may miss it.</summary>
    /// <param name="others">Steps that may say less now.</param>
    public void Without(OutcomeBlock gone, IReadOnlyList<LoweringStep> others)
    {
        var name = gone.Name.Text;
        lowering.Forget(name, undo);
        Miss(name);
        KeepBy(name);
        var all = program.Outcomes.ToArray();
        var those = new HashSet<LoweringStep>(others, ReferenceEqualityComparer.Instance);
        for (var i = 0; i < _steps.Outcomes.Count; i++)
        {
            var (block, step) = _steps.Outcomes[i];
            if (ReferenceEquals(block, gone))
            {
                _before.AddRange(step.Found);
            }
            else if (those.Contains(step) || Reads(step, _changed))
            {
                Outcome(i, block, all, those.Contains(step) || Reads(step, _missed));
            }
        }

        Tables(those);
        WithoutLost();
        var names = _lost.Count > 0 || those.Contains(_steps.End!) || Reads(_steps.End!, _missed);
        if (names || Reads(_steps.End!, _changed))
        {
            End(names);
        }
    }

    /// <summary>
    /// Actions, claims and readiness miss cut-offs whose heading names nothing any more. Where it names a measure without
    /// cut-offs, all lines get other names.
    /// </summary>
    private void WithoutLost()
    {
        foreach (var index in Enumerable.Reverse(_lost))
        {
            lowering.RemoveTable(index, undo);
        }

        program = program with { Bands = [.. program.Bands.Where((_, i) => !_lost.Contains(i))] };
        Fits &= _lost.Count == 0 || diagnostics.HasErrors;
    }

    /// <summary>Those steps anew, and what they look different to, after a task or a section was given another name.</summary>
    /// <param name="task">Its trials are kept anew.</param>
    public void Lower(string? task, IReadOnlyList<LoweringStep> steps)
    {
        var those = new HashSet<LoweringStep>(steps, ReferenceEqualityComparer.Instance);
        if (task is not null && _steps.Kept.ContainsKey(task))
        {
            Keep(task);
        }

        var all = program.Outcomes.ToArray();
        for (var i = 0; i < _steps.Outcomes.Count; i++)
        {
            var (block, step) = _steps.Outcomes[i];
            if (those.Contains(step) || Reads(step, _changed))
            {
                Outcome(i, block, all, those.Contains(step));
            }
        }

        program = program with { Outcomes = all };
        Tables(those);
        var names = those.Contains(_steps.End!);
        if (names || Reads(_steps.End!, _changed))
        {
            End(names);
        }

        Fits &= diagnostics.HasErrors || !lowering.HasMisfit;
    }

    private void Keep(string task)
    {
        var (measure, before) = _steps.Kept[task];
        var step = before;
        Fits &= lowering.KeepAgain(task, ref step, undo) || diagnostics.HasErrors;
        undo.Add(() => _steps.Kept[task] = (measure, before));
        _steps.Kept[task] = (measure, step);
        Compare(before, step);
    }

    /// <summary>A measure or score is there no more under this name.</summary>
    private void Miss(string outcome)
    {
        _missed.Add(outcome);
        _changed.Add(outcome);
        _made.Add(outcome);
    }

    private void KeepBy(string measure)
    {
        foreach (var task in _steps.KeptBy(measure))
        {
            Keep(task);
        }
    }

    private void Outcomes(string old, OutcomeBlock edited)
    {
        if (old != edited.Name.Text)
        {
            Miss(old);
        }

        KeepBy(old);
        var all = program.Outcomes.ToArray();
        for (var i = 0; i < _steps.Outcomes.Count; i++)
        {
            var (block, step) = _steps.Outcomes[i];
            var isEdited = block.Name.Text == old;
            if (isEdited || Reads(step, _changed))
            {
                Outcome(i, isEdited ? edited : block, all, Reads(step, _missed));
            }
        }

        program = program with { Outcomes = all };
    }

    /// <param name="names">It may have a mistake of its own, whatever it reads.</param>
    private void Outcome(int index, OutcomeBlock block, OutcomeLines[] all, bool names = false)
    {
        var name = block.Name.Text;
        var before = _steps.Outcomes[index];
        if (!names && Reads(before.Step, _broken))
        {
            Silence(before.Step);
            _broken.Add(name);
            _changed.Add(name);
            return;
        }

        var old = before.Block.Name.Text;
        var (known, step) = (lowering.Known(old), before.Step);
        var lines = lowering.OutcomeAgain(old, block, ref step, undo);
        undo.Add(() => _steps.Outcomes[index] = before);
        _steps.Outcomes[index] = (block, step);
        Compare(before.Step, step);
        _made.Add(name);
        if (lines is null)
        {
            _broken.Add(name);
        }
        else
        {
            all[index] = lines with { Sides = TasksOf(lines.Sides, all[index].Sides) };
        }

        if (!LooksSame(known, lowering.Known(name)))
        {
            _changed.Add(name);
        }
    }

    /// <summary>The tasks as they are now: their words may have been edited since rules were lowered.</summary>
    private static SideLines? TasksOf(SideLines? made, SideLines? before)
    {
        if (made is null)
        {
            return null;
        }

        var now = (before?.Tasks ?? []).ToLookup(t => t.Task.Name, t => t.Task, StringComparer.Ordinal);
        return made with
        {
            Tasks =
            [
                .. made.Tasks.Select(t => t with { Task = now[t.Task.Name].FirstOrDefault() ?? t.Task }),
            ],
        };
    }

    /// <param name="edited">Reads a table's own statement anew.</param>
    private void Tables(HashSet<LoweringStep> those, CutOffsBlock? edited = null)
    {
        var all = program.Bands.ToArray();
        for (var i = 0; i < _steps.Tables.Count; i++)
        {
            var (block, step) = _steps.Tables[i];
            if (_broken.Contains(block.Outcome.Text))
            {
                Silence(step);
            }
            else if (those.Contains(step) || _made.Contains(block.Outcome.Text))
            {
                Table(i, those.Contains(step) ? edited ?? block : block, all);
            }
        }

        program = program with { Bands = all };
    }

    private void Table(int index, CutOffsBlock block, BandLine[] all)
    {
        var before = _steps.Tables[index];
        var step = before.Step;
        var line = lowering.TableAgain(index, before.Block, block, ref step, undo);
        undo.Add(() => _steps.Tables[index] = before);
        _steps.Tables[index] = (block, step);
        Compare(before.Step, step);
        all[index] = line ?? all[index];
        if (
            line is null
            && (before.Block.Outcome.Text != block.Outcome.Text || _missed.Contains(block.Outcome.Text))
        )
        {
            _lost.Add(index);
        }

        Fits &= line is not null || diagnostics.HasErrors;
    }

    private void End(bool names = false)
    {
        var before = _steps.End!;
        if (!names && Reads(before, _broken))
        {
            Silence(before);
            return;
        }

        var step = before;
        var (actions, headline, claims) = lowering.EndAgain(ref step, undo);
        undo.Add(() => _steps.End = before);
        _steps.End = step;
        Compare(before, step);
        program = program with { Actions = actions, HeadlineLine = headline, Claims = claims };
    }

    private static bool Reads(LoweringStep step, HashSet<string> outcomes) =>
        outcomes.Count > 0 && step.Outcomes.Any(outcomes.Contains);

    /// <summary>What a step found that now finds nothing may have been found by its reading on.</summary>
    private void Silence(LoweringStep step) => Fits &= step.Found.Count == 0;

    private void Compare(LoweringStep before, LoweringStep step)
    {
        _before.AddRange(before.Found);
        ReadsOthers |= !before.Answers.SequenceEqual(step.Answers) || !before.Signs.SequenceEqual(step.Signs);
    }

    /// <summary>Whether rules that read an outcome come to the same.</summary>
    private static bool LooksSame((Outcome Outcome, Value Value)? a, (Outcome Outcome, Value Value)? b) =>
        a is var (one, value)
        && b is var (other, next)
        && one.Title == other.Title
        && one.Step == other.Step
        && value.Reads.SetEquals(next.Reads)
        && value with { Reads = next.Reads, WrittenAt = next.WrittenAt } == next;
}
