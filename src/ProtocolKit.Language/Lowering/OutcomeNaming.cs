using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Gives a measure's or score's state and ends lines of their own, under its name.</summary>
internal static class OutcomeNaming
{
    /// <returns>The lines, and the value as later lines read it.</returns>
    public static (OutcomeLines Lines, Value Named) Name(
        ProgramBuilder program,
        OutcomeBlock block,
        string written,
        Value value,
        Unit unit,
        Rational? step
    )
    {
        var name = block.Name.Text;
        var note =
            $"{block.Title?.Text ?? Names.ToTitle(name)}, {(step is { } s ? $"steps of {s} {unit.Symbol}".TrimEnd() : "a fraction")}";
        var state = program.Line($"{name}.state", value.State, "0 known, 1 not applicable, 2 to 8 blocked");
        var low = program.Line(value.IsPoint ? $"{name}.value" : $"{name}.low", value.Low.Over, note);
        var high = value.IsPoint ? low : program.Line($"{name}.high", value.High.Over, note);
        var (lowUnder, highUnder) = (-1, -1);
        if (!value.IsWhole)
        {
            lowUnder = program.Line(
                $"{name}.low.divisor",
                value.Low.Under,
                "the value is the line above divided by this"
            );
            highUnder = value.IsPoint
                ? lowUnder
                : program.Line(
                    $"{name}.high.divisor",
                    value.High.Under,
                    "the value is the line above divided by this"
                );
        }

        var named = value with
        {
            State = value.State is Constant ? value.State : ProgramBuilder.Reference(state, value.State),
            Low = Reference(low, lowUnder, value.Low),
            High = Reference(high, highUnder, value.High),
        };
        named = value.IsPoint ? named with { High = named.Low } : named;
        var timing = block.Body.OfType<HandTimingLine>().FirstOrDefault();
        var outcome = new Outcome(
            name,
            block.Title?.Text ?? Names.ToTitle(name),
            block.IsScore,
            written,
            unit,
            step,
            value.Least,
            value.Greatest,
            timing is null ? null : $"{timing.Error.Number} {timing.Unit.Text}",
            block.Source.OriginOf(block.Name.Place)
        )
        {
            ClaimedRange = ClaimOf(block),
            Rules = [.. block.Body.Where(l => l is not (ValueLine or ClaimRangeLine)).Select(l => l.Written)],
        };
        var lines = new OutcomeLines(
            outcome,
            state,
            low,
            high,
            lowUnder,
            highUnder,
            value.Scale,
            [.. value.Reads.Order(StringComparer.Ordinal)]
        );
        return (lines, named);
    }

    private static RangeClaim? ClaimOf(OutcomeBlock block) =>
        block.Body.OfType<ClaimRangeLine>().FirstOrDefault() is { } line
        && line.Range.From.Number is { } from
        && line.Range.To.Number is { } to
            ? new RangeClaim(from, to, line.Source.OriginOf(line.Range.Place))
            : null;

    private static Ratio Reference(int line, int under, Ratio ratio) =>
        new(
            ProgramBuilder.Reference(line, ratio.Over),
            under < 0 ? ratio.Under : ProgramBuilder.Reference(under, ratio.Under)
        );
}
