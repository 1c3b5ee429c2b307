namespace ProtocolKit.Model;

/// <summary>What an expression or a condition of the scoring program is put together from.</summary>
public static class ExpressionParts
{
    /// <summary>
    /// The expressions and conditions directly inside <paramref name="part"/>, in the order in which they are written; none inside
    /// constants, fields and earlier lines. A missing condition of a sum's term is null.
    /// </summary>
    public static IEnumerable<object?> Of(object? part) =>
        part switch
        {
            Add a => [a.Left, a.Right],
            Subtract s => [s.Left, s.Right],
            Multiply m => [m.Left, m.Right],
            Least l => [l.Left, l.Right],
            Most m => [m.Left, m.Right],
            Choose c => [c.If, c.Then, c.Else],
            FloorDivide d => [d.Dividend, d.Divisor],
            GuardedSum s => s.Terms.SelectMany(t => new object?[] { t.If, t.Value }),
            Pick p => [p.Subject],
            IsEqual e => [e.Left, e.Right],
            IsAtMost a => [a.Left, a.Right],
            BothOf b => [b.Left, b.Right],
            EitherOf e => [e.Left, e.Right],
            Not n => [n.Inner],
            _ => [],
        };
}
