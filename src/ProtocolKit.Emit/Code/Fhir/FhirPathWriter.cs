using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// Lines as FHIRPath. Its whole numbers have 32 bits, so nothing here may reach 2^31; the two ends are found by
/// <c>aggregate</c>, as <c>min</c> and <c>max</c> are not everywhere. Source: HL7 FHIRPath 2.0.0, http://hl7.org/fhirpath/N1.
/// </summary>
internal sealed class FhirPathWriter(IReadOnlyList<string> fields, IReadOnlyList<string> lines)
    : ExpressionWriter(fields, lines)
{
    protected override string Equal => "=";

    protected override string Unequal => "!=";

    protected override string And => "and";

    protected override string Or => "or";

    protected override string CaseHelper => "select";

    protected override string Literal(long value) => value.ToString(CultureInfo.InvariantCulture);

    protected override CodeLayout Smallest(Least ends) => Ends(PartsOf(ends, e => (e.Left, e.Right)), '<');

    protected override CodeLayout Largest(Most ends) => Ends(PartsOf(ends, e => (e.Left, e.Right)), '>');

    protected override CodeLayout Quotient(FloorDivide quotient, Bond within) =>
        Operation(quotient.Dividend, " div ", quotient.Divisor, within);

    protected override CodeLayout Product(Multiply product, Bond within) =>
        Operation(product.Left, " * ", product.Right, within);

    protected override CodeLayout Negated(BoolExpr inner, Bond within) =>
        CodeLayout.Row(Condition(inner, Bond.Tight), CodeLayout.Word(".not()"));

    protected override CodeLayout Choice(
        IReadOnlyList<(BoolExpr If, IntExpr Then)> arms,
        IntExpr otherwise,
        Bond within
    ) => Nested("iif", arms, otherwise);

    /// <summary>The cases cover the subject in rising order: halved until one is left, so that nothing nests deep.</summary>
    protected override CodeLayout Case(Pick pick) =>
        CodeLayout.Row(
            Value(pick.Subject, Bond.Tight),
            CodeLayout.Word($".select({Cases([.. pick.Cases], 0, pick.Cases.Count)})")
        );

    private static string Cases(PickCase[] cases, int from, int to)
    {
        if (to - from == 1)
        {
            return Number(cases[from].Value);
        }

        var middle = (from + to) / 2;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"iif($this < {Number(cases[middle].From)}, {Cases(cases, from, middle)}, {Cases(cases, middle, to)})"
        );
    }

    private static string Number(long value) =>
        value < 0
            ? string.Create(CultureInfo.InvariantCulture, $"({value})")
            : value.ToString(CultureInfo.InvariantCulture);

    private CodeLayout Operation(IntExpr left, string sign, IntExpr right, Bond within) =>
        Held(
            CodeLayout.Row(Value(left, Bond.Product), CodeLayout.Word(sign), Value(right, Bond.Tight)),
            Bond.Product,
            within
        );

    /// <summary>Each part is written once: the first begins the total, the others are held against it.</summary>
    private CodeLayout Ends(IReadOnlyList<IntExpr> parts, char sign)
    {
        var rest = parts.Skip(2).Select(p => Bracketed(".combine", Value(p, Bond.Loose)));
        return CodeLayout.Row([
            Value(parts[1], Bond.Tight),
            .. rest,
            CodeLayout.Word($".aggregate(iif($this {sign} $total, $this, $total), "),
            Value(parts[0], Bond.Loose),
            CodeLayout.Word(")"),
        ]);
    }
}
