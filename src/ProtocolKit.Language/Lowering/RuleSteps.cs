using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Lowering;

/// <summary>The steps in which rules were lowered, in their order.</summary>
internal sealed class RuleSteps
{
    /// <summary>By task: the measure its trials are kept by, and the step. Other tasks have none.</summary>
    public Dictionary<string, (string Measure, LoweringStep Step)> Kept { get; } =
        new(StringComparer.Ordinal);

    /// <summary>Each after those it reads.</summary>
    public List<(OutcomeBlock Block, LoweringStep Step)> Outcomes { get; } = [];
    public List<(CutOffsBlock Block, LoweringStep Step)> Tables { get; } = [];

    /// <summary>Actions and claims.</summary>
    public LoweringStep? End { get; set; }

    public IEnumerable<LoweringStep> All =>
        Kept
            .Values.Select(k => k.Step)
            .Concat(Outcomes.Select(o => o.Step))
            .Concat(Tables.Select(t => t.Step))
            .Append(End!);

    /// <summary>No step was taken in the midst of another, and none stands behind the answers' back.</summary>
    public bool AreApart { get; set; }

    /// <summary>Where they begin, after what was lowered of tasks and their trials.</summary>
    public int Begin =>
        Outcomes.Count > 0 ? Outcomes.Min(o => o.Step.From)
        : Tables.Count > 0 ? Tables[0].Step.From
        : End!.From;

    /// <summary>The tasks whose trials are kept by a measure.</summary>
    public IReadOnlyList<string> KeptBy(string measure) =>
        [.. Kept.Where(k => k.Value.Measure == measure).Select(k => k.Key)];

    public void Rename(string task, string anew, Undo undo)
    {
        if (Kept.Remove(task, out var kept))
        {
            Kept.Add(anew, kept);
            undo.Add(() =>
            {
                Kept.Remove(anew);
                Kept.Add(task, kept);
            });
        }
    }

    /// <summary>What an edited measure or score reads stands before it, so that none can be worked out in a circle.</summary>
    public bool ReadsEarlier(OutcomeBlock block)
    {
        var reads = OutcomeOrder.ReadsOf(block).ToHashSet(StringComparer.Ordinal);
        return Outcomes
            .SkipWhile(o => o.Block.Name.Text != block.Name.Text)
            .All(o => !reads.Contains(o.Block.Name.Text));
    }

    /// <summary>True where these measures and scores would be lowered in the order of the steps.</summary>
    public bool AreInOrderOf(IReadOnlyList<OutcomeBlock> outcomes) =>
        OutcomeOrder
            .Of(outcomes)
            .Select(o => o.Name.Text)
            .SequenceEqual(Outcomes.Select(o => o.Block.Name.Text));

    /// <summary>The steps that name one of these tasks, or a measure or score, and those that rest on them.</summary>
    public IReadOnlyList<LoweringStep> RestingOn(HashSet<string> tasks, string? outcome = null)
    {
        var names = tasks.GetAlternateLookup<ReadOnlySpan<char>>();
        var changed = new HashSet<string>(StringComparer.Ordinal);
        if (outcome is not null)
        {
            changed.Add(outcome);
        }

        var found = Kept.Values.Select(k => k.Step).Where(IsOn).ToList();
        foreach (var (block, step) in Outcomes.Where(o => IsOn(o.Step)))
        {
            changed.Add(block.Name.Text);
            found.Add(step);
        }

        found.AddRange(Tables.Select(t => t.Step).Append(End!).Where(IsOn));
        return found;

        bool IsOn(LoweringStep step) =>
            step.Answers.Any(IsNamed)
            || step.Signs.Any(s => tasks.Contains(s.Task))
            || step.Outcomes.Any(changed.Contains);

        bool IsNamed(string key) =>
            names.Contains(key.IndexOf('.') is var dot and >= 0 ? key.AsSpan(0, dot) : key);
    }
}
