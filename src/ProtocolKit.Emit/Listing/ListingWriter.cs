using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Listing;

/// <summary>Core expressions in the notation of the core language.</summary>
internal sealed class ListingWriter(ScoringProgram program)
{
    public string Value(IntExpr value) =>
        value switch
        {
            Constant c => c.Value.ToString(CultureInfo.InvariantCulture),
            FieldValue f => program.Fields[f.Field].Name,
            LineValue l => program.Lines[l.Line].Name,
            Add e => $"({Value(e.Left)} + {Value(e.Right)})",
            Subtract e => $"({Value(e.Left)} - {Value(e.Right)})",
            Multiply e => $"({Value(e.Left)} * {Value(e.Right)})",
            Least e => $"least({Value(e.Left)}, {Value(e.Right)})",
            Most e => $"most({Value(e.Left)}, {Value(e.Right)})",
            Choose e => $"({Condition(e.If)} ? {Value(e.Then)} : {Value(e.Else)})",
            FloorDivide e => $"fdiv({Value(e.Dividend)}, {Value(e.Divisor)})",
            GuardedSum e => $"sum({string.Join(", ", e.Terms.Select(Term))})",
            Pick e => $"pick({Value(e.Subject)}; {string.Join(", ", e.Cases.Select(Case))})",
            _ => throw new InvalidOperationException("An unknown kind of value."),
        };

    public string Condition(BoolExpr condition) =>
        condition switch
        {
            LineCondition l => program.Lines[l.Line].Name,
            IsEqual e => $"{Value(e.Left)} = {Value(e.Right)}",
            IsAtMost e => $"{Value(e.Left)} <= {Value(e.Right)}",
            BothOf e => $"({Condition(e.Left)} and {Condition(e.Right)})",
            EitherOf e => $"({Condition(e.Left)} or {Condition(e.Right)})",
            Not e => $"not ({Condition(e.Inner)})",
            _ => throw new InvalidOperationException("An unknown kind of condition."),
        };

    private string Term(SumTerm term) =>
        term.If is null ? Value(term.Value) : $"{Condition(term.If)}: {Value(term.Value)}";

    private static string Case(PickCase c) =>
        string.Create(CultureInfo.InvariantCulture, $"{c.From}..{c.To}: {c.Value}");
}
