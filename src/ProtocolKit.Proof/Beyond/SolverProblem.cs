namespace ProtocolKit.Proof;

/// <summary>
/// Answers a question that is too large for the exact engine, under a limit of its own. What it finds is scored before it is shown, and
/// what it says can't be is a proof; a question it leaves open is reported as not proved.
/// </summary>
public interface IBeyondLimit
{
    SolverAnswer Solve(SolverProblem problem);
}

/// <summary>How a value is worked out from others.</summary>
public enum SolverOp
{
    Constant,

    /// <summary>Given by its part.</summary>
    Field,

    /// <summary>Constant + Σ number · argument.</summary>
    Linear,
    Multiply,
    Least,
    Most,

    /// <summary>Condition, then, otherwise.</summary>
    Choose,

    /// <summary>Rounded down; the dividend is at least 0, the divisor at least 1.</summary>
    Divide,

    /// <summary>Numbers: from, to and value of each case.</summary>
    Pick,
    Equal,
    AtMost,
    Both,
    Either,
    Not,

    /// <summary>Moved to the nearer of two limits, the numbers.</summary>
    Clamp,
    Same,
}

/// <param name="Args">Places of earlier values.</param>
/// <param name="Low">Proved limits.</param>
public sealed record SolverValue(
    SolverOp Op,
    IReadOnlyList<int> Args,
    long Constant,
    IReadOnlyList<long> Numbers,
    long Low,
    long High
);

/// <summary>A part of a sheet: some of the values together take one of these rows.</summary>
/// <param name="Fields">Places of values.</param>
/// <param name="Differing">By row: how many answers differ from flawless ones.</param>
/// <param name="StepsOff">By row.</param>
public sealed record SolverPart(
    IReadOnlyList<int> Fields,
    IReadOnlyList<long[]> Rows,
    IReadOnlyList<long> Differing,
    IReadOnlyList<long> StepsOff
);

/// <param name="Holds">Places of conditions that must all be 1.</param>
public sealed record SolverProblem(
    IReadOnlyList<SolverPart> Parts,
    IReadOnlyList<SolverValue> Values,
    IReadOnlyList<int> Holds
);

public enum SolverOutcome
{
    /// <summary>There is no such sheet: proved.</summary>
    Impossible,
    Found,
    Open,
}

/// <param name="Rows">By part the row it takes; empty unless found.</param>
/// <param name="Limit">What the search was limited to, in words, such as <c>10 seconds</c>.</param>
public sealed record SolverAnswer(SolverOutcome Outcome, IReadOnlyList<int> Rows, string Limit);
