namespace ProtocolKit.Model;

/// <summary>
/// What a new examiner shows before rating alone: so many records rated by both, and how often the two must agree.
/// </summary>
/// <param name="Records">Records the new and the trained examiner rate independently of each other.</param>
/// <param name="AgainAfter">After how many months it is shown again; null: never.</param>
public sealed record Readiness(
    string Text,
    int Records,
    IReadOnlyList<ReadinessCheck> Checks,
    int? AgainAfter,
    Origin Origin
);

public enum ReadinessKind
{
    /// <summary>The same answer, over all answers of that name.</summary>
    SameAnswer,

    /// <summary>Values no further apart than <see cref="ReadinessCheck.Within"/>.</summary>
    CloseValue,

    /// <summary>The same band.</summary>
    SameBand,

    /// <summary>The same headline action.</summary>
    SameHeadline,
}

/// <summary>In at least this share of the pairs the two examiners agree.</summary>
/// <param name="Of">An answer's name such as <c>rate</c>, or a measure or score; empty for the headline.</param>
/// <param name="Within">For <see cref="ReadinessKind.CloseValue"/>, in the outcome's unit.</param>
/// <param name="Percent">From 1 to 100.</param>
public sealed record ReadinessCheck(ReadinessKind Kind, string Of, Rational Within, int Percent);
