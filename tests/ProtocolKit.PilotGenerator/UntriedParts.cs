using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.PilotGenerator;

/// <summary>Which tasks of a sitting were not tried, and by which code.</summary>
public sealed class UntriedParts(Truth truth, Protocol protocol)
{
    /// <summary>By task and side; a task that isn't there was tried.</summary>
    public IReadOnlyDictionary<(string Task, string Variant), State> Of(Child child, int sitting, int age)
    {
        var untried = new Dictionary<(string, string), State>();
        var number = sitting.ToString(CultureInfo.InvariantCulture);
        var end = child.Roll("end", number);
        var last = end.Chance(truth.Untried.OutOfTime)
            ? protocol.Tasks.Count - 1 - end.Below(8)
            : int.MaxValue;
        foreach (var task in protocol.Tasks)
        {
            foreach (var variant in task.Variants)
            {
                var code =
                    task.Number > last
                        ? State.OutOfTime
                        : Code(child.Roll("tried", task.Name, variant.Name, number), task, age);
                if (code != State.Known)
                {
                    untried[(task.Name, variant.Name)] = code;
                }
            }
        }

        return untried;
    }

    /// <summary>The code a second examiner writes for the same part.</summary>
    public State Second(Child child, string task, string variant, State code)
    {
        var dice = child.Roll("second-code", task, variant);
        return !dice.Chance(truth.Untried.OtherCode) ? code
            : code == State.Refused ? State.NotUnderstood
            : State.Refused;
    }

    private State Code(Dice dice, ProtocolTask task, int age)
    {
        var chances = truth.Untried;
        var refused = task.Contact switch
        {
            Contact.Mouth => chances.RefusedMouth,
            Contact.Face => chances.RefusedFace,
            _ => chances.Refused,
        };
        (State Code, double Chance)[] codes =
        [
            (State.Refused, refused * (age < 66 ? 1.6 : 0.8)),
            (State.NotUnderstood, age < 66 ? chances.NotUnderstood : 0),
            (State.NotPossible, chances.NotPossible),
            (State.Stopped, task.Contact == Contact.Mouth ? chances.Stopped : 0),
            (State.Spoiled, chances.Spoiled),
        ];
        return codes.Where(c => dice.Chance(c.Chance)).Select(c => c.Code).FirstOrDefault(State.Known);
    }
}
