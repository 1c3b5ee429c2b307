using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
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

    /// <summary>What was found outside care and parts, but for these.</summary>
    public IEnumerable<Diagnostic> RestWithout(IReadOnlyList<Diagnostic> these) =>
        OfRest.Except(these, ReferenceEqualityComparer.Instance).Cast<Diagnostic>();
}
