namespace ProtocolKit.Model;

/// <summary>What changed between the sittings of one child, value by value.</summary>
public sealed record ReTestReport
{
    public required Protocol Protocol { get; init; }
    public required string Case { get; init; }

    /// <summary>The days of the sittings with the ages, the earliest first; at least two.</summary>
    public required IReadOnlyList<EvidenceFact> Sittings { get; init; }
    public required IReadOnlyList<ReTestValue> Values { get; init; }

    /// <summary>What to know of these records, such as another interpretation.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }
}

/// <summary>One value over all sittings.</summary>
/// <param name="Known">What each sitting leaves possible, one a sitting; null where it has no value.</param>
/// <param name="Answers">From each sitting to the next and, with more than two, from the first to the last.</param>
/// <param name="Basis">Where the error comes from, with children, interval and time between the sittings.</param>
public sealed record ReTestValue(
    ReTest ReTest,
    IReadOnlyList<(Rational Low, Rational High)?> Known,
    IReadOnlyList<ReTestAnswer> Answers,
    string Basis
);

/// <param name="From">The sitting it starts from, counted from 0.</param>
/// <param name="Says">The answer as a sentence, with the change and the error.</param>
public sealed record ReTestAnswer(int From, int To, ChangeAnswer Answer, string Says);
