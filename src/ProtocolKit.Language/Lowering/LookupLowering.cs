using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Looks a raw value up by age (core.md R20): exact rows, nothing between them. A raw value between two ends gives the least and the
/// most of the results in between.
/// </summary>
internal sealed class LookupLowering(ProgramBuilder program, AnswerLowering answers)
{
    public Value Lower(BoundLookup lookup, Value raw, Unit unit)
    {
        var columns = lookup.Table.Ages.Select((_, i) => Cases(lookup, raw.Scale, i)).ToList();
        var low = new Ratio(ByAge(lookup, columns, raw, wantsLow: true), IntMath.Number(1));
        var high = raw.IsPoint
            ? low
            : new Ratio(ByAge(lookup, columns, raw, wantsLow: false), IntMath.Number(1));
        var isIn = Bools.Any(lookup.Table.Ages.Select(IsAt));
        return raw with
        {
            // Blocked beats not applicable.
            State = IntMath.Choose(isIn, raw.State, IntMath.Most(raw.State, IntMath.Number(1))),
            Low = low,
            High = high,
            Scale = lookup.Step,
            Unit = unit,
            Better = BetterOf(columns, raw.Better),
            IsLiteral = false,
        };
    }

    private BoolExpr IsAt(AgeRange ages) =>
        Bools.And(Bools.AtLeast(answers.Age, ages.From.Months), Bools.AtMost(answers.Age, ages.To.Months));

    private IntExpr ByAge(BoundLookup lookup, List<List<PickCase>> columns, Value raw, bool wantsLow)
    {
        IntExpr? result = null;
        for (var i = columns.Count - 1; i >= 0; i--)
        {
            var end = wantsLow ? "low" : "high";
            var column = program.Name(
                string.Create(CultureInfo.InvariantCulture, $"{program.Scope}.column-{i + 1}.{end}"),
                Column(columns[i], raw, wantsLow),
                $"the {(wantsLow ? "least" : "greatest")} result at {lookup.Table.Ages[i]}"
            );
            result = result is null ? column : IntMath.Choose(IsAt(lookup.Table.Ages[i]), column, result);
        }

        return result!;
    }

    private static IntExpr Column(List<PickCase> cases, Value raw, bool wantsLow)
    {
        if (raw.IsPoint || IsRising(cases))
        {
            return IntMath.Pick(wantsLow || raw.IsPoint ? raw.Low.Over : raw.High.Over, cases);
        }

        return IsFalling(cases)
            ? IntMath.Pick(wantsLow ? raw.High.Over : raw.Low.Over, cases)
            : Between(cases, raw, wantsLow);
    }

    /// <summary>Where results rise and fall: the least or the most of all that the ends enclose.</summary>
    private static IntExpr Between(List<PickCase> cases, Value raw, bool wantsLow)
    {
        var never = IntMath.Number(wantsLow ? cases.Max(c => c.Value) : cases.Min(c => c.Value));
        var met = cases
            .Select(c =>
                IntMath.Choose(
                    Bools.And(Bools.AtMost(raw.Low.Over, c.To), Bools.AtLeast(raw.High.Over, c.From)),
                    IntMath.Number(c.Value),
                    never
                )
            )
            .ToList();
        return IntMath.Balanced(met, wantsLow ? IntMath.Least : IntMath.Most);
    }

    private static List<PickCase> Cases(BoundLookup lookup, Rational rawStep, int column)
    {
        var cases = new List<PickCase>();
        foreach (var row in lookup.Table.Rows.Where(r => r.Results[column] is not null).OrderBy(r => r.From))
        {
            var (from, to) = (Steps(row.From, rawStep), Steps(row.To, rawStep));
            var value = Steps(row.Results[column]!.Value, lookup.Step);
            cases.Add(new PickCase(from, to, value));
        }

        return cases;
    }

    private static long Steps(Rational number, Rational step) =>
        (long)
            System.Numerics.BigInteger.Clamp(
                (number / step).Numerator,
                -ScoringProgram.Limit,
                ScoringProgram.Limit
            );

    private static bool IsRising(List<PickCase> cases) => Pairs(cases).All(p => p.Before <= p.After);

    private static bool IsFalling(List<PickCase> cases) => Pairs(cases).All(p => p.Before >= p.After);

    private static IEnumerable<(long Before, long After)> Pairs(List<PickCase> cases) =>
        cases.Zip(cases.Skip(1), (a, b) => (a.Value, b.Value));

    private static Better BetterOf(List<List<PickCase>> columns, Better raw) =>
        columns.TrueForAll(IsRising) ? raw
        : !columns.TrueForAll(IsFalling) ? Better.Unstated
        : raw switch
        {
            Better.Higher => Better.Lower,
            Better.Lower => Better.Higher,
            _ => Better.Unstated,
        };
}
