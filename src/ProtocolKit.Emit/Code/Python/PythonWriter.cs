using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Python;

/// <summary>Python's whole numbers have no limit, and <c>//</c> rounds down.</summary>
internal sealed class PythonWriter(IReadOnlyList<string> fields, IReadOnlyList<string> lines)
    : ExpressionWriter(fields, lines)
{
    protected override string Equal => "==";

    protected override string Unequal => "!=";

    protected override string And => "and";

    protected override string Or => "or";

    protected override string CaseHelper => "_pick";

    protected override string Literal(long value) => value.ToString(CultureInfo.InvariantCulture);

    protected override CodeLayout Smallest(Least ends) => Call("min", ends.Left, ends.Right);

    protected override CodeLayout Largest(Most ends) => Call("max", ends.Left, ends.Right);

    protected override CodeLayout Quotient(FloorDivide quotient, Bond within) =>
        Infix(quotient.Dividend, "//", quotient.Divisor, within);

    protected override CodeLayout Product(Multiply product, Bond within) =>
        Infix(product.Left, "*", product.Right, within);

    protected override CodeLayout Negated(BoolExpr inner, Bond within) =>
        Held(CodeLayout.Row(CodeLayout.Word("not "), Condition(inner, Bond.Negation)), Bond.Negation, within);

    protected override CodeLayout Choice(
        IReadOnlyList<(BoolExpr If, IntExpr Then)> arms,
        IntExpr otherwise,
        Bond within
    )
    {
        var parts = new List<(string, CodeLayout)>();
        foreach (var (condition, value) in arms)
        {
            parts.Add(("else", Value(value, Bond.Either)));
            parts.Add(("if", Condition(condition, Bond.Either)));
        }

        parts.Add(("else", Value(otherwise, Bond.Either)));
        return Held(CodeLayout.Chain(parts), Bond.Loose, within);
    }

    private CodeLayout Infix(IntExpr left, string sign, IntExpr right, Bond within) =>
        Held(
            CodeLayout.Chain([("", Value(left, Bond.Product)), (sign, Value(right, Bond.Tight))]),
            Bond.Product,
            within
        );
}
