using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>A protocol without errors with all that is needed to bind one of its tasks anew.</summary>
/// <param name="Tasks">In giving order.</param>
internal sealed record BoundProtocol(
    Protocol Protocol,
    Declarations Declared,
    VocabularyBinder Vocabulary,
    IReadOnlyDictionary<string, Section> Sections,
    IReadOnlyList<BoundTask> Tasks,
    NameLookup Names
)
{
    /// <summary>How much of the <see cref="WorkLimit"/> it takes.</summary>
    public required long Spent { get; init; }

    /// <summary>What was found while a task was bound, by its name.</summary>
    public required IReadOnlyDictionary<string, IReadOnlyList<Diagnostic>> OfTasks { get; init; }

    /// <summary>What was found in other steps than binding tasks and <see cref="CareChecks"/>, and all of the tasks too.</summary>
    public required IReadOnlyList<Diagnostic> OfRest { get; init; }

    /// <summary>What <see cref="CareChecks"/> found.</summary>
    public required IReadOnlyList<Diagnostic> OfCare { get; init; }

    /// <summary>What declarations and vocabulary report to.</summary>
    public required DiagnosticBag Bag { get; init; }
}
