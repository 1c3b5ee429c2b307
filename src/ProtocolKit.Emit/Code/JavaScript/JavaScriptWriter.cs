using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.JavaScript;

/// <summary>
/// JavaScript's doubles are exact for whole numbers up to 2^53 - 1, the program's proved limit, and so is the
/// floor of a quotient of two of them: were a/b rounded up to a whole q, then 1/b would be at most half a unit in
/// q's last place, less than q·2^-53, so that a + 1 = qb would exceed 2^53.
/// </summary>
internal sealed class JavaScriptWriter(IReadOnlyList<string> fields, IReadOnlyList<string> lines)
    : ExpressionWriter(fields, lines)
{
    protected override string Equal => "===";

    protected override string Unequal => "!==";

    protected override string CaseHelper => "pick";

    protected override string Literal(long value) => value.ToString(CultureInfo.InvariantCulture);

    protected override CodeLayout Smallest(Least ends) => Call("Math.min", ends.Left, ends.Right);

    protected override CodeLayout Largest(Most ends) => Call("Math.max", ends.Left, ends.Right);

    protected override CodeLayout Quotient(FloorDivide quotient, Bond within) =>
        Bracketed(
            "Math.floor",
            CodeLayout.Chain([
                ("", Value(quotient.Dividend, Bond.Product)),
                ("/", Value(quotient.Divisor, Bond.Tight)),
            ])
        );

    /// <summary>Zero times a negative number is -0 in JavaScript; adding 0 makes it a plain zero.</summary>
    protected override CodeLayout Product(Multiply product, Bond within)
    {
        var factors = CodeLayout.Chain([
            ("", Value(product.Left, Bond.Product)),
            ("*", Value(product.Right, Bond.Tight)),
        ]);
        var mayBeMinusZero = product.Left.Low < 0 || product.Right.Low < 0;
        return mayBeMinusZero
            ? Held(CodeLayout.Row(factors, CodeLayout.Word(" + 0")), Bond.Sum, within)
            : Held(factors, Bond.Product, within);
    }
}
