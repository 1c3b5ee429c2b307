using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>A protocol without errors with all that is needed to bind one of its statements anew.</summary>
/// <param name="Tasks">In giving order.</param>
internal sealed record BoundProtocol(
    Protocol Protocol,
    Declarations Declared,
    VocabularyBinder Vocabulary,
    IReadOnlyDictionary<string, Section> Sections,
    IReadOnlyList<BoundTask> Tasks,
    ProtocolLowering Lowering
)
{
    public required BoundHeader Header { get; init; }

    public required WorkLimit Work { get; init; }

    /// <summary>What was found while a task was bound, by its name.</summary>
    public required IReadOnlyDictionary<string, IReadOnlyList<Diagnostic>> OfTasks { get; init; }

    /// <summary>What was found in other steps than those below, and all of the tasks too.</summary>
    public required IReadOnlyList<Diagnostic> OfRest { get; init; }

    /// <summary>What <see cref="CareChecks"/> found.</summary>
    public required IReadOnlyList<Diagnostic> OfCare { get; init; }

    /// <summary>What <see cref="ProtocolParts.Rules"/> found.</summary>
    public required IReadOnlyList<Diagnostic> OfParts { get; init; }

    /// <summary>What declarations, vocabulary and lowering report to.</summary>
    public required DiagnosticBag Bag { get; init; }

    /// <summary>A task's name, and those of the tasks it may be added up with.</summary>
    public HashSet<string> Beside(ProtocolTask task) => [.. In(task.Section?.Name), task.Name];

    /// <summary>Names of the tasks of a section.</summary>
    public HashSet<string> In(string? section) =>
        [
            .. Tasks
                .Where(t => section is not null && t.Task.Section?.Name == section)
                .Select(t => t.Task.Name),
        ];

    /// <summary>A task bound from its edited statement, reporting to the bag; null where nothing can be known of it.</summary>
    public BoundTask? BindAgain(TaskBlock block, SectionBlock? section, int number, Undo undo)
    {
        undo.Add(() => Declared.Values.Recall(block.Name.Text));
        var work = new WorkLimit(Bag, Work.Spent);
        return new TaskBinder(Declared, Vocabulary, Sections, work, Bag).Bind(block, section, number);
    }

    /// <summary>What <see cref="CareChecks"/> finds of these tasks now: less where there are errors.</summary>
    public IReadOnlyList<Diagnostic> CareOf(IReadOnlyList<BoundTask> tasks)
    {
        var before = Bag.Found.Count;
        new CareChecks(tasks, Vocabulary, Declared, Lowering.Names, Bag).Run();
        return [.. Bag.Found.Skip(before)];
    }

    /// <summary>After rules were lowered anew: the protocol they make, whose findings stand in the bag.</summary>
    /// <param name="tasks">As they are now; care is asked of them.</param>
    /// <param name="before">What was found the last time of what was bound anew.</param>
    /// <param name="keepsCare">Without an error, care finds what it found.</param>
    public BoundProtocol? With(
        Relowering relowering,
        IReadOnlyList<BoundTask> tasks,
        IReadOnlyList<Diagnostic> before,
        bool keepsCare
    )
    {
        if (!relowering.Fits || Work.IsExceeded)
        {
            return null;
        }

        IReadOnlyList<Diagnostic> found = [.. Bag.Found];
        var care = keepsCare && !Bag.HasErrors ? OfCare : CareOf(tasks);
        var from = Bag.Found.Count;
        var bare = ReferenceEquals(tasks, Tasks)
            ? Protocol
            : Protocol with
            {
                Tasks = [.. tasks.Select(t => t.Task)],
            };
        var protocol = ProtocolParts.Rules(bare, relowering.Program, Lowering, Declared, Bag);
        return this with
        {
            Protocol = protocol.FingerprintedBy(FingerprintWriter.Of),
            Tasks = tasks,
            OfRest = [.. RestWithout([.. before, .. relowering.Before]), .. found],
            OfCare = care,
            OfParts = [.. Bag.Found.Skip(from)],
        };
    }

    /// <summary>What was found outside care and parts, but for these.</summary>
    public IEnumerable<Diagnostic> RestWithout(IReadOnlyList<Diagnostic> these) =>
        OfRest.Except(these, ReferenceEqualityComparer.Instance).Cast<Diagnostic>();
}
