using System.Globalization;
using ProtocolKit.Model;
using static ProtocolKit.Workspace.Comparing.Matching;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>How the form is given.</summary>
internal static class AdministrationChanges
{
    public static IReadOnlyList<string> Of(Protocol old, Protocol @new)
    {
        var changes = new List<string>();
        if (old.ShortFormMinutes != @new.ShortFormMinutes)
        {
            changes.Add(
                $"The short form takes {Minutes(@new.ShortFormMinutes)} instead of {Minutes(old.ShortFormMinutes)}."
            );
        }

        Order(old, @new, changes);
        foreach (var (before, after) in Pairs(old.Tasks, @new.Tasks, t => t.Name))
        {
            if (before is not null && after is not null)
            {
                changes.AddRange(Task(before, after).Select(c => $"{after.Title}: {c}"));
            }
        }

        changes.AddRange(RoutingChanges.Of(old, @new));
        return changes;
    }

    private static void Order(Protocol old, Protocol @new, List<string> changes)
    {
        var titles = @new.Tasks.ToDictionary(t => t.Name, t => t.Title, StringComparer.Ordinal);
        foreach (
            var (name, after) in Moved(
                [.. old.Tasks.Select(t => t.Name)],
                [.. @new.Tasks.Select(t => t.Name)]
            )
        )
        {
            changes.Add(
                after is null
                    ? $"{titles[name]} is now given before the others."
                    : $"{titles[name]} is now given after {titles[after]}."
            );
        }

        foreach (var (before, after) in Pairs(old.Tasks, @new.Tasks, t => t.Name))
        {
            if (before is null || after is null)
            {
                changes.Add(
                    before is null
                        ? $"{after!.Title} is given as number {Number(after.Number)}."
                        : $"{before.Title} is no longer given."
                );
            }
        }
    }

    private static IEnumerable<string> Task(ProtocolTask old, ProtocolTask @new)
    {
        if (old.ShortForm != @new.ShortForm)
        {
            yield return @new.ShortForm
                ? "belongs to the short form now."
                : "no longer belongs to the short form.";
        }

        if (Names(old) != Names(@new) && SameNames(old, @new))
        {
            yield return $"is given in the order {Names(@new)} instead of {Names(old)}.";
        }

        if (Trials(old.Trials) != Trials(@new.Trials))
        {
            yield return $"has {Trials(@new.Trials)} instead of {Trials(old.Trials)}.";
        }

        foreach (
            var (what, before, after) in new[]
            {
                ("the introduction of its section", old.Section?.Introduction, @new.Section?.Introduction),
                ("the signal to begin", old.Go, @new.Go),
                ("the practice", old.Practice, @new.Practice),
                ("what may be repeated", old.Repeat, @new.Repeat),
                ("the time to hold", old.Hold, @new.Hold),
            }
        )
        {
            if (before != after)
            {
                yield return $"{what} is {OrNothing(after)} instead of {OrNothing(before)}.";
            }
        }

        if (!old.StopWhen.SequenceEqual(@new.StopWhen))
        {
            yield return $"stops when {Quote(@new.StopWhen)} instead of {Quote(old.StopWhen)}.";
        }

        if (!old.Help.SequenceEqual(@new.Help))
        {
            yield return $"the help is {Ladder(@new)} instead of {Ladder(old)}.";
        }
    }

    private static string Ladder(ProtocolTask task) =>
        task.Help.Count == 0 ? "none" : List(task.Help.Select(Rung));

    private static string Rung(HelpRung rung)
    {
        var more = new[]
        {
            rung.Contact == Contact.None ? null : $"contact {rung.Contact.ToString().ToLowerInvariant()}",
            rung.Cost.Sign > 0 ? $"costs {rung.Cost}" : null,
            rung.IsStart ? "start" : null,
        };
        var said = string.Join(", ", more.OfType<string>());
        return said.Length == 0 ? rung.Text : $"{rung.Text} ({said})";
    }

    private static string Trials(TrialPlan plan)
    {
        var count = plan.Count == 1 ? "one trial" : $"{Number(plan.Count)} trials";
        var keep = plan.Keep switch
        {
            Keep.Only => "",
            _ when plan.IsCombined =>
                $", their {plan.Keep.ToString().ToLowerInvariant()}{Combined(plan)} counts",
            Keep.First or Keep.Last => $", the {plan.Keep.ToString().ToLowerInvariant()} kept",
            _ => $", the {plan.Keep.ToString().ToLowerInvariant()} {plan.By} kept",
        };
        var further = plan.FurtherWhen is { } rule
            ? $", a further one when {rule.Response} is below {rule.Below}"
            : "";
        return count + keep + further;
    }

    private static string Combined(TrialPlan plan) =>
        (plan.OfThoseGiven ? " of those given" : "") + (plan.Step is { } step ? $" in steps of {step}" : "");

    private static string Names(ProtocolTask task) => List(task.Variants.Select(v => v.Name));

    private static bool SameNames(ProtocolTask old, ProtocolTask @new) =>
        old
            .Variants.Select(v => v.Name)
            .Order(StringComparer.Ordinal)
            .SequenceEqual(@new.Variants.Select(v => v.Name).Order(StringComparer.Ordinal));

    private static string Minutes(int? minutes) =>
        minutes is { } m ? $"{Number(m)} min" : "no time (there is none)";

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
