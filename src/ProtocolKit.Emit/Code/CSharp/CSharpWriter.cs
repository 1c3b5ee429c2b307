using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.CSharp;

/// <summary>Whole numbers are <c>long</c> throughout; a bare literal would fall back to <c>int</c>.</summary>
internal sealed class CSharpWriter(IReadOnlyList<string> fields, IReadOnlyList<string> lines)
    : ExpressionWriter(fields, lines)
{
    protected override string Equal => "==";

    protected override string Unequal => "!=";

    protected override string CaseHelper => "Pick";

    protected override string Literal(long value) => value.ToString(CultureInfo.InvariantCulture) + "L";

    protected override CodeLayout Smallest(Least ends) => Call("Math.Min", ends.Left, ends.Right);

    protected override CodeLayout Largest(Most ends) => Call("Math.Max", ends.Left, ends.Right);

    /// <summary>Division of longs drops the rest: rounding down, as the dividend is proved not to be negative.</summary>
    protected override CodeLayout Quotient(FloorDivide quotient, Bond within) =>
        Infix(quotient.Dividend, "/", quotient.Divisor, within);

    protected override CodeLayout Product(Multiply product, Bond within) =>
        Infix(product.Left, "*", product.Right, within);

    private CodeLayout Infix(IntExpr left, string sign, IntExpr right, Bond within) =>
        Held(
            CodeLayout.Chain([("", Value(left, Bond.Product)), (sign, Value(right, Bond.Tight))]),
            Bond.Product,
            within
        );
}
