namespace ProtocolKit.Model;

/// <summary>
/// A whole-number expression of the scoring program. Every expression carries the limits proved for it
/// when it was built: evaluating it on fields within their bounds gives a value within
/// <see cref="Low"/> and <see cref="High"/>.
/// </summary>
public abstract record IntExpr(long Low, long High);

/// <summary>A constant.</summary>
public sealed record Constant(long Value) : IntExpr(Value, Value);

/// <summary>A field of the record, by its index in <see cref="ScoringProgram.Fields"/>.</summary>
public sealed record FieldValue(int Field, long Low, long High) : IntExpr(Low, High);

/// <summary>An earlier whole-number line, by its index in <see cref="ScoringProgram.Lines"/>.</summary>
public sealed record LineValue(int Line, long Low, long High) : IntExpr(Low, High);

public sealed record Add(IntExpr Left, IntExpr Right, long Low, long High) : IntExpr(Low, High);

public sealed record Subtract(IntExpr Left, IntExpr Right, long Low, long High) : IntExpr(Low, High);

public sealed record Multiply(IntExpr Left, IntExpr Right, long Low, long High) : IntExpr(Low, High);

/// <summary>The smaller of two values.</summary>
public sealed record Least(IntExpr Left, IntExpr Right, long Low, long High) : IntExpr(Low, High);

/// <summary>The larger of two values.</summary>
public sealed record Most(IntExpr Left, IntExpr Right, long Low, long High) : IntExpr(Low, High);

/// <summary>One of two values; a target may evaluate both.</summary>
public sealed record Choose(BoolExpr If, IntExpr Then, IntExpr Else, long Low, long High)
    : IntExpr(Low, High);

/// <summary>
/// The quotient rounded down. <see cref="Dividend"/> is at least 0 and <see cref="Divisor"/> at least 1 by
/// their proved limits, so truncating and flooring targets agree.
/// </summary>
public sealed record FloorDivide(IntExpr Dividend, IntExpr Divisor, long Low, long High) : IntExpr(Low, High);

/// <summary>The sum of the values whose condition holds (no condition: always).</summary>
public sealed record GuardedSum(IReadOnlyList<SumTerm> Terms, long Low, long High) : IntExpr(Low, High);

public sealed record SumTerm(BoolExpr? If, IntExpr Value);

/// <summary>The value of the case that holds the subject; the cases cover the subject's limits.</summary>
public sealed record Pick(IntExpr Subject, IReadOnlyList<PickCase> Cases, long Low, long High)
    : IntExpr(Low, High);

public sealed record PickCase(long From, long To, long Value);

/// <summary>A two-valued condition of the scoring program.</summary>
public abstract record BoolExpr;

/// <summary>An earlier condition line.</summary>
public sealed record LineCondition(int Line) : BoolExpr;

public sealed record IsEqual(IntExpr Left, IntExpr Right) : BoolExpr;

public sealed record IsAtMost(IntExpr Left, IntExpr Right) : BoolExpr;

public sealed record BothOf(BoolExpr Left, BoolExpr Right) : BoolExpr;

public sealed record EitherOf(BoolExpr Left, BoolExpr Right) : BoolExpr;

public sealed record Not(BoolExpr Inner) : BoolExpr;
