using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.R;

/// <summary>
/// Lines over whole columns: a value is a number for each child. R's doubles hold every whole number of the program,
/// and the floor of a quotient of two of them is exact, as in JavaScript.
/// </summary>
internal sealed class RWriter(IReadOnlyList<string> fields, IReadOnlyList<string> lines)
    : ExpressionWriter(fields, lines)
{
    protected override string Equal => "==";

    protected override string Unequal => "!=";

    protected override string And => "&";

    protected override string Or => "|";

    protected override string CaseHelper => "pick";

    protected override string Literal(long value) => value.ToString(CultureInfo.InvariantCulture);

    protected override CodeLayout Smallest(Least ends) => Ends("pmin", PartsOf(ends, e => (e.Left, e.Right)));

    protected override CodeLayout Largest(Most ends) => Ends("pmax", PartsOf(ends, e => (e.Left, e.Right)));

    protected override CodeLayout Quotient(FloorDivide quotient, Bond within) =>
        Bracketed(
            "floor",
            CodeLayout.Chain([
                ("", Value(quotient.Dividend, Bond.Product)),
                ("/", Value(quotient.Divisor, Bond.Tight)),
            ])
        );

    /// <summary>Zero times a negative number is -0, which R writes and compares as 0.</summary>
    protected override CodeLayout Product(Multiply product, Bond within) =>
        Held(
            CodeLayout.Chain([
                ("", Value(product.Left, Bond.Product)),
                ("*", Value(product.Right, Bond.Tight)),
            ]),
            Bond.Product,
            within
        );

    protected override CodeLayout Choice(
        IReadOnlyList<(BoolExpr If, IntExpr Then)> arms,
        IntExpr otherwise,
        Bond within
    )
    {
        var parts = arms.SelectMany(a => new[] { Condition(a.If, Bond.Loose), Value(a.Then, Bond.Loose) });
        return Bracketed("first_of", CodeLayout.List([.. parts, Value(otherwise, Bond.Loose)]));
    }

    private CodeLayout Ends(string word, IReadOnlyList<IntExpr> parts) =>
        Bracketed(word, CodeLayout.List([.. parts.Select(p => Value(p, Bond.Loose))]));
}
