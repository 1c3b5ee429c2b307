using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.PilotGenerator;

/// <summary>One examiner's sheet of a sitting: the behaviour as that examiner rated and read it.</summary>
public sealed class Examiner(Truth truth, Protocol protocol, RaterTruth rater, bool isSecond)
{
    public IReadOnlyDictionary<string, string> HelpOf(
        Child child,
        Behaviour behaviour,
        long[] fields,
        int sitting
    ) =>
        protocol
            .Program.Answers.Where(a => !a.IsHelp && a.Trial == 1 && a.Response.Kind == ResponseKind.Rating)
            .Where(a => a.Task.Help.Count > 0 && fields[a.StateField] == (long)State.Known)
            .DistinctBy(a => (a.Task.Name, a.Variant.Name))
            .Select(a => (Key: Part(a), Rung: Rung(a, child, behaviour, sitting)))
            .Where(h => h.Rung >= 0)
            .ToDictionary(
                h => h.Key,
                h => protocol.Tasks.Single(t => h.Key.Split('.')[0] == t.Name).Help[h.Rung].Text,
                StringComparer.Ordinal
            );

    public void Fill(long[] fields, AnswerSlot slot, Behaviour behaviour, int sitting)
    {
        fields[slot.StateField] = (long)State.Known;
        fields[slot.ValueField] = Clamp(slot, Value(slot, behaviour, sitting));
    }

    private long Value(AnswerSlot slot, Behaviour behaviour, int sitting)
    {
        var dice = Own(slot, behaviour, sitting, "reads");
        return slot.Response.Kind switch
        {
            ResponseKind.Rating => Levels.Of(
                behaviour.Quality(slot) - rater.Severity + dice.Normal(rater.Error),
                slot.Response.Scale!.Levels.Count,
                truth.Ratings.HalfWidth
            ),
            ResponseKind.Count or ResponseKind.Time or ResponseKind.Quantity => Number(slot, behaviour, dice),
            _ => dice.Chance(truth.Choices.Error)
                ? dice.Weighted(behaviour.Chances(slot))
                : behaviour.Option(slot),
        };
    }

    private long Number(AnswerSlot slot, Behaviour behaviour, Dice dice)
    {
        var isRun =
            slot.Task.Responses.Any(r => r.Kind == ResponseKind.Time)
            && slot.Task.Responses.Any(r => r.Kind == ResponseKind.Count);
        if (isRun && slot.Response.Kind == ResponseKind.Time)
        {
            return Steps(slot, behaviour.RunLength(slot) + dice.Normal(0.08) + (0.08 * rater.ReadingBias));
        }

        if (isRun)
        {
            var count = behaviour.Rate(slot) * behaviour.RunLength(slot);
            return Steps(slot, count + dice.Normal(behaviour.RatesOf(slot).Reading));
        }

        if (slot.Response.Kind == ResponseKind.Count && slot.Response.High <= 10)
        {
            var slip = dice.Chance(0.05) ? (dice.Chance(0.5) ? 1 : -1) : 0;
            return Steps(slot, behaviour.Right(slot) + slip);
        }

        var reading = behaviour.NumbersOf(slot).Reading;
        return Steps(slot, behaviour.Number(slot) + (reading * rater.ReadingBias) + dice.Normal(reading));
    }

    private int Rung(AnswerSlot slot, Child child, Behaviour behaviour, int sitting)
    {
        var first = child.Roll("help", Part(slot), sitting.ToString(CultureInfo.InvariantCulture));
        var falls = behaviour.Quality(slot) < truth.Ratings.HalfWidth;
        var rung = falls && first.Chance(truth.Untried.Help) ? first.Below(slot.Task.Help.Count) : -1;
        var other = Own(slot, behaviour, sitting, "help");
        return isSecond && falls && other.Chance(truth.Untried.OtherHelp)
            ? other.Below(slot.Task.Help.Count + 1) - 1
            : rung;
    }

    private Dice Own(AnswerSlot slot, Behaviour behaviour, int sitting, string what) =>
        behaviour.Roll(
            slot,
            rater.Code,
            what,
            sitting.ToString(CultureInfo.InvariantCulture),
            slot.Trial.ToString(CultureInfo.InvariantCulture)
        );

    private long Clamp(AnswerSlot slot, long value)
    {
        var field = protocol.Program.Fields[slot.ValueField];
        return Math.Clamp(value, field.Low, field.High);
    }

    private static long Steps(AnswerSlot slot, double value) =>
        (long)
            Math.Floor(
                (value * (double)slot.Response.Step.Denominator / (double)slot.Response.Step.Numerator) + 0.5
            );

    private static string Part(AnswerSlot slot) =>
        slot.Variant.Name.Length == 0 ? slot.Task.Name : $"{slot.Task.Name}.{slot.Variant.Name}";
}
