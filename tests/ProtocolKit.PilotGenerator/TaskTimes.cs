using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.PilotGenerator;

/// <summary>
/// How long the examiner had each task open: its words, what is timed in it, waiting, further trials and sides, help. A sitting's minutes,
/// less the time between tasks, are shared out among them. Now and then nobody counted. The second examiner only watches, and never does.
/// </summary>
public sealed class TaskTimes(Truth truth, Protocol protocol)
{
    public IReadOnlyDictionary<string, int> Of(
        Child child,
        long[] fields,
        IReadOnlyDictionary<string, string> help,
        int sitting,
        double minutes
    )
    {
        var number = sitting.ToString(CultureInfo.InvariantCulture);
        var tasks = protocol
            .Tasks.OrderBy(t => t.Number)
            .Select(t =>
                (t.Name, Dice: child.Roll("task-seconds", t.Name, number), Usual: Usual(t, fields, help))
            )
            .Select(t =>
                (
                    t.Name,
                    IsCounted: !t.Dice.Chance(truth.Times.Missing),
                    Share: t.Usual * Math.Exp(t.Dice.Normal(truth.Times.Spread))
                )
            )
            .ToList();
        var share = (minutes - truth.Times.MinutesBetween) * 60 / tasks.Sum(t => t.Share);
        return tasks
            .Where(t => t.IsCounted)
            .ToDictionary(t => t.Name, t => (int)Math.Round(t.Share * share), StringComparer.Ordinal);
    }

    /// <summary>Seconds the same answers would take at an even pace.</summary>
    private double Usual(ProtocolTask task, long[] fields, IReadOnlyDictionary<string, string> help)
    {
        var slots = protocol.Program.Answers.Where(a => !a.IsHelp && a.Task.Name == task.Name).ToList();
        var tried = slots.Where(a => fields[a.StateField] == (long)State.Known).ToList();
        var turns = tried.Select(a => (a.Variant.Name, a.Trial)).Distinct().Count();
        var run = tried.Where(a => a.Response.Kind == ResponseKind.Time).Sum(a => Number(a, fields));
        var helped = help.Keys.Count(k => k.Split('.')[0] == task.Name);
        return truth.Times.Opening
            + (turns * truth.Times.Turn)
            + run
            + (helped * truth.Times.Help)
            + (tried.Count == 0 ? truth.Times.Untried : 0);
    }

    private static double Number(AnswerSlot slot, long[] fields) =>
        fields[slot.ValueField]
        * (double)slot.Response.Step.Numerator
        / (double)slot.Response.Step.Denominator;
}
