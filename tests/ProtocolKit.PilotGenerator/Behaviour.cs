using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.PilotGenerator;

/// <summary>
/// What a child does at each task of a sitting. It is there before anyone rates it: two examiners of a sitting see the
/// same behaviour, each with errors of their own.
/// </summary>
public sealed class Behaviour(Truth truth, Child child, DateOnly day, int sitting)
{
    private readonly string _sitting = sitting.ToString(CultureInfo.InvariantCulture);
    private readonly double _ability = child.AbilityAt(day, sitting);
    private readonly double _years = (child.AgeAt(day).Months - 96) / 12.0;

    /// <summary>How well the movement was done, on the scale of abilities, above the task's middle.</summary>
    public double Quality(AnswerSlot slot) =>
        _ability
        - truth.Ratings.Difficulty.GetValueOrDefault(slot.Task.Name, truth.Ratings.UsualDifficulty)
        + Own(slot, truth.Ratings.Child, truth.Ratings.Side, truth.Ratings.Day, truth.Ratings.Trial);

    /// <summary>A time, length or count, in its unit, before it is read.</summary>
    public double Number(AnswerSlot slot) => Number(slot, NumbersOf(slot));

    /// <summary>Repeats a second; the trial's count follows from it and from the trial's length.</summary>
    public double Rate(AnswerSlot slot) => Number(slot, RatesOf(slot));

    public NumberTruth NumbersOf(AnswerSlot slot) =>
        truth.Numbers.GetValueOrDefault(slot.Task.Name) ?? Usual(slot.Response);

    public NumberTruth RatesOf(AnswerSlot slot) =>
        truth.Rates.GetValueOrDefault(slot.Task.Name) ?? new NumberTruth(2, 0.1, 0.2, 0.2, 0.1, 0.1, 0.5);

    /// <summary>How many seconds a timed trial of repeats took.</summary>
    public double RunLength(AnswerSlot slot) => 3 + (2.5 * Roll(slot, "length", Trial(slot)).Even());

    /// <summary>Right answers of so many turns, each with the same chance.</summary>
    public int Right(AnswerSlot slot)
    {
        var dice = Roll(slot, "turns", _sitting, Trial(slot));
        var chance = 1 / (1 + Math.Exp(-1.2 - Quality(slot)));
        return Enumerable.Range(0, (int)slot.Response.High.Numerator).Count(_ => dice.Chance(chance));
    }

    /// <summary>The option shown; with options in order, by the quality of the movement.</summary>
    public int Option(AnswerSlot slot)
    {
        var options = slot.Response.Options.Count;
        if (truth.Choices.Ordered.Contains(slot.Task.Name))
        {
            return options - 1 - Levels.Of(Quality(slot), options, truth.Ratings.HalfWidth);
        }

        return Roll(slot, "option", _sitting, Trial(slot)).Weighted(Chances(slot));
    }

    /// <summary>Chances of each option; where the first is the usual one, less able children show it less often.</summary>
    public IReadOnlyList<double> Chances(AnswerSlot slot)
    {
        if (
            truth.Choices.Weights.TryGetValue(slot.Task.Name, out var given)
            && given.Count == slot.Response.Options.Count
        )
        {
            return given;
        }

        var odds = truth.Choices.First / (1 - truth.Choices.First) * Math.Exp(0.6 * child.Standing);
        var first = odds / (1 + odds);
        var others = slot.Response.Options.Count - 1;
        return [first, .. Enumerable.Repeat((1 - first) / Math.Max(1, others), others)];
    }

    public Dice Roll(AnswerSlot slot, params ReadOnlySpan<string> words) =>
        child.Roll([slot.Task.Name, slot.Variant.Name, slot.Response.Name, .. words]);

    private double Number(AnswerSlot slot, NumberTruth number) =>
        number.Mean
        + (number.PerYear * _years)
        + (number.Ability * (_ability - (truth.Ability.PerYear * _years)))
        + Own(slot, number.Child, 0, number.Day, number.Trial);

    private double Own(AnswerSlot slot, double lasting, double side, double today, double trial) =>
        child.Roll(slot.Task.Name, "lasting").Normal(lasting)
        + child.Roll(slot.Task.Name, "side", slot.Variant.Name).Normal(side)
        + child.Roll(slot.Task.Name, "today", slot.Variant.Name, _sitting).Normal(today)
        + child.Roll(slot.Task.Name, "trial", slot.Variant.Name, _sitting, Trial(slot)).Normal(trial);

    private static string Trial(AnswerSlot slot) => slot.Trial.ToString(CultureInfo.InvariantCulture);

    private static NumberTruth Usual(Response response)
    {
        var low = ToDouble(response.PlausibleLow ?? response.Low);
        var high = ToDouble(response.PlausibleHigh ?? response.High);
        var part = (high - low) / 16;
        return new NumberTruth((low + high) / 2, 0, 0, part, part / 2, part / 2, part / 4);
    }

    private static double ToDouble(Rational value) => (double)value.Numerator / (double)value.Denominator;
}

/// <summary>From a quality to a level: steps lie evenly between minus and plus the half width.</summary>
public static class Levels
{
    /// <summary>0 is the lowest of so many levels.</summary>
    public static int Of(double quality, int levels, double halfWidth)
    {
        var level = 0;
        for (var step = 0; step < levels - 1; step++)
        {
            var at = levels == 2 ? 0 : -halfWidth + (2 * halfWidth * step / (levels - 2));
            level += quality > at ? 1 : 0;
        }

        return level;
    }
}
