using ProtocolKit.Model;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 4, of numbers: their steps, units and limits.</summary>
internal static class NumberMessages
{
    private const string T = "task a item(three)\n";

    private static readonly Descriptor BackwardsEntry = new(
        "PK4002",
        Severity.Error,
        "A range that runs backwards",
        "A range goes from the smaller to the larger end.",
        "task run\n  count steps 60 to 0\n",
        "task run\n  count steps 0 to 60\n"
    );

    private static readonly Descriptor OffStepEntry = new(
        "PK4003",
        Severity.Error,
        "A number that can't occur",
        "Every number is a whole multiple of its step. With step 0.1 there is 3.4 and 3.5, but no 3.45.",
        "task run\n  time length in s, step 0.1, 0.55 to 15\n",
        "task run\n  time length in s, step 0.1, 0.5 to 15\n"
    );

    private static readonly Descriptor UnitEntry = new(
        "PK4004",
        Severity.Error,
        "Units that don't go together",
        "Seconds can't be added to millimetres, nor syllables to taps. A count over a duration is a rate. A bare number matches only values without a unit.",
        "task run\n  count steps 0 to 9\n  time length in s, step 0.1, 0.5 to 15\nmeasure m = run.steps + run.length\n",
        "task run\n  count steps 0 to 9\n  time length in s, step 0.1, 0.5 to 15\nmeasure m in steps/s, step 0.1 = run.steps / run.length\n"
    );

    private static readonly Descriptor ZeroEntry = new(
        "PK4005",
        Severity.Error,
        "A division that could be by zero",
        "What is divided by must not be able to be zero: bound the answer away from zero, or guard the line with if on that same value.",
        "task run\n  count steps 0 to 9\n  time length in s, step 0.1, 0 to 15\nmeasure m in steps/s, step 0.1 = run.steps / run.length\n",
        "task run\n  count steps 0 to 9\n  time length in s, step 0.1, 0.1 to 15\nmeasure m in steps/s, step 0.1 = run.steps / run.length\n"
    );

    private static readonly Descriptor StepEntry = new(
        "PK4006",
        Severity.Error,
        "A step is missing",
        "A value that comes from a division can fall between any two numbers. Before it is banded, kept by or averaged, say to which step it is rounded (half up, once).",
        "section s \"S\"\n  task a item(three)\n  task b item(three)\nscore m \"M\"\n  mean of rate of every task in s\n",
        "section s \"S\"\n  task a item(three)\n  task b item(three)\nscore m \"M\" step 1\n  mean of rate of every task in s\n"
    );

    private static readonly Descriptor LimitEntry = new(
        "PK4007",
        Severity.Error,
        "A number that could grow too large",
        "On its way to the result no number may pass 9,007,199,254,740,991: beyond it not every target computes exactly. Narrow the bounds of the answers or take larger steps.",
        "task run\n  count steps 0 to 999999999999\nmeasure m = run.steps * run.steps\n",
        "task run\n  count steps 0 to 999\nmeasure m = run.steps * run.steps\n"
    );

    private static readonly Descriptor NumberEntry = new(
        "PK4023",
        Severity.Error,
        "A number out of place",
        "This number must be whole, or positive, or within what makes sense here.",
        "task a\n  trials 0, keep first\n  rate three\n",
        "task a\n  trials 2, keep first\n  rate three\n"
    );

    private static readonly Descriptor RangeClaimEntry = new(
        "PK4024",
        Severity.Error,
        "A claimed range that can't be",
        "The range a score claims must lie on its step and within what its answers allow.",
        T + "score t \"T\" = 2 * a\n  claim range 0 to 9\n",
        T + "score t \"T\" = 2 * a\n  claim range 0 to 4\n"
    );

    private static readonly Descriptor NotANumberEntry = new(
        "PK4022",
        Severity.Error,
        "An answer that isn't a number",
        "Choices, directions and yes/no answers can be asked about with is, but not added or compared in size.",
        "task a\n  choice\n    one \"One\"\n    two \"Two\"\nscore t \"T\" = 1 + a\n",
        "task a item(three)\nscore t \"T\" = 1 + a\n"
    );

    private static readonly Descriptor BetterEntry = new(
        "PK4020",
        Severity.Error,
        "Best or worst of values that don't say what is better",
        "Best and worst need to know whether higher or lower is better. Say so at the answer, or write highest of or lowest of.",
        "task run\n  time length in s, step 0.1, 0.5 to 15\nmeasure m in s, step 0.1 = best of (run.length)\n",
        "task run\n  time length in s, step 0.1, 0.5 to 15, higher is better\nmeasure m in s, step 0.1 = best of (run.length)\n"
    );

    public static Message Backwards(string from, string to) =>
        new(BackwardsEntry, $"The range runs backwards, from {from} to {to}.", $"Write {to} to {from}.");

    public static Message OffStep(Rational number, Rational step)
    {
        var below = StepBelow(number, step);
        return new(
            OffStepEntry,
            $"{number} can't occur: values come in steps of {step}.",
            $"Write {below} or {below + step}, or change the step."
        );
    }

    public static Message Unit(string what, string left, string right) =>
        new(
            UnitEntry,
            $"{what}: one is {Named(left)}, the other {Named(right)}.",
            "Bring both to the same unit, or check the names."
        );

    public static Message BareNumber(string number, string unit) =>
        new(
            UnitEntry,
            $"The number {number} has no unit, but what it meets is in {unit}.",
            $"Write {number} {unit}.",
            $"{number} {unit}"
        );

    public static Message WrongUnit(string found, string wanted) =>
        new(
            UnitEntry,
            $"What is worked out here is {Named(found)}, not {Named(wanted)}.",
            "Correct the unit or the formula."
        );

    public static Message NoDuration(string found) =>
        new(
            UnitEntry,
            $"A time can't be measured in {found}.",
            "Write a unit of time such as s, or ask for a quantity."
        );

    public static Message UnitSpelling(string found, string better) =>
        new(UnitEntry, $"The unit {found} is spelt {better} here.", $"Write {better}.", better);

    public static Message Zero(string divisor, string? example) =>
        new(
            ZeroEntry,
            $"{divisor} could be zero, and nothing can be divided by zero.",
            example ?? $"Bound it away from zero, or guard the line: if {divisor} > 0 then … otherwise …"
        );

    public static Message Step(string name, string why) =>
        new(
            StepEntry,
            $"{name} needs a step, because {why}.",
            "Say where it is worked out to which step it is rounded, as in: step 0.1"
        );

    public static Message Limit(string name) =>
        new(
            LimitEntry,
            $"On the way to {name} a number could pass 9,007,199,254,740,991.",
            "Narrow the bounds of the answers, or take larger steps."
        );

    public static Message Better(string word) =>
        new(
            BetterEntry,
            $"Nothing says whether higher or lower is better here, so {word} can't be known.",
            word == "best"
                ? "Say it at the answer, or write highest of or lowest of."
                : "Say it at the answer, or write lowest of or highest of."
        );

    /// <param name="example">One of the things it can be.</param>
    public static Message NotANumber(string name, string example) =>
        new(NotANumberEntry, $"{name} isn't a number.", $"Ask about it with is, as in: {name} is {example}");

    public static Message Points() =>
        new(
            NumberEntry,
            "Points of a level lie between -1,000,000 and 1,000,000, with at most six decimals.",
            "Write smaller or rounder points."
        );

    public static Message Number(string what, string fix) => new(NumberEntry, what, fix);

    public static Message RangeClaim(string name, string possible) =>
        new(
            RangeClaimEntry,
            $"{name} can't reach the whole range it claims: its answers allow {possible}.",
            $"Write claim range {possible}, or correct the score."
        );

    private static string Named(string unit) =>
        unit.Length == 0 || unit == "1" ? "a number without a unit" : "in " + unit;

    private static Rational StepBelow(Rational number, Rational step)
    {
        var steps = number / step;
        var whole = System.Numerics.BigInteger.Divide(steps.Numerator, steps.Denominator);
        return new Rational(steps.Sign < 0 && !steps.IsInteger ? whole - 1 : whole, 1) * step;
    }
}
