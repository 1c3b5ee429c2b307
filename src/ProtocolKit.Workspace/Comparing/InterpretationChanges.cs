using ProtocolKit.Model;
using static ProtocolKit.Workspace.Comparing.Matching;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>How the answers are read.</summary>
internal static class InterpretationChanges
{
    public static IReadOnlyList<string> Of(Protocol old, Protocol @new)
    {
        var changes = new List<string>();
        if (old.Ages != @new.Ages)
        {
            changes.Add($"It is for ages {@new.Ages} instead of {old.Ages}.");
        }

        if (old.CorrectedUntil != @new.CorrectedUntil)
        {
            changes.Add(
                $"Ages are corrected for prematurity {Until(@new.CorrectedUntil)} instead of {Until(old.CorrectedUntil)}."
            );
        }

        foreach (
            var (before, after) in Pairs(old.Program.Outcomes, @new.Program.Outcomes, o => o.Outcome.Name)
        )
        {
            changes.AddRange(
                before is null ? [$"{after!.Outcome.Title} ({after.Outcome.Name}) is new."]
                : after is null ? [$"{before.Outcome.Title} ({before.Outcome.Name}) is no longer worked out."]
                : Value(before, after).Select(c => $"{after.Outcome.Title}: {c}")
            );
        }

        changes.AddRange(CutOffChanges.Of(old, @new));
        changes.AddRange(Actions(old, @new));
        changes.AddRange(ReTests(old, @new));
        return changes;
    }

    private static IEnumerable<string> Value(OutcomeLines old, OutcomeLines @new)
    {
        var (before, after) = (old.Outcome, @new.Outcome);
        if (Spaced(before.Formula) != Spaced(after.Formula))
        {
            yield return $"is {Spaced(after.Formula)} instead of {Spaced(before.Formula)}.";
        }

        if (before.Step != after.Step)
        {
            yield return $"goes in steps of {Step(after.Step)} instead of {Step(before.Step)}.";
        }

        if (before.Unit.Symbol != after.Unit.Symbol)
        {
            yield return $"is in {Unit(after.Unit)} instead of {Unit(before.Unit)}.";
        }

        // A table's rows are its rules too, and told cell by cell.
        if (before.Table is { } oldTable && after.Table is { } newTable)
        {
            foreach (var change in LookupChanges.Of(oldTable, newTable))
            {
                yield return change;
            }

            yield break;
        }

        foreach (var rule in after.Rules.Except(before.Rules, StringComparer.Ordinal))
        {
            yield return $"now says {rule}.";
        }

        foreach (var rule in before.Rules.Except(after.Rules, StringComparer.Ordinal))
        {
            yield return $"no longer says {rule}.";
        }

        var (more, fewer) = (
            @new.Reads.Except(old.Reads, StringComparer.Ordinal).ToList(),
            old.Reads.Except(@new.Reads, StringComparer.Ordinal).ToList()
        );
        if (more.Count > 0)
        {
            yield return $"rests on {List(more)} too.";
        }

        if (fewer.Count > 0)
        {
            yield return $"no longer rests on {List(fewer)}.";
        }
    }

    private static IEnumerable<string> Actions(Protocol old, Protocol @new)
    {
        foreach (var (before, after) in Pairs(old.Actions, @new.Actions, a => a.Name))
        {
            if (before is null)
            {
                yield return $"{after!.Title} ({after.Name}) is a new action.";
            }
            else if (after is null)
            {
                yield return $"{before.Title} ({before.Name}) is no longer an action.";
            }
            else
            {
                foreach (var change in Action(before, after))
                {
                    yield return $"{after.Title}: {change}";
                }
            }
        }

        var titles = @new.Actions.ToDictionary(a => a.Name, a => a.Title, StringComparer.Ordinal);
        foreach (
            var (name, above) in Moved(
                [.. old.Actions.Select(a => a.Name)],
                [.. @new.Actions.Select(a => a.Name)]
            )
        )
        {
            yield return above is null
                ? $"{titles[name]} is now the most severe action."
                : $"{titles[name]} now comes after {titles[above]} in severity.";
        }
    }

    private static IEnumerable<string> Action(ProtocolAction old, ProtocolAction @new)
    {
        if (old.Urgency != @new.Urgency)
        {
            yield return $"is urgent {@new.Urgency ?? "without a time"} instead of {old.Urgency ?? "without a time"}.";
        }

        if (old.Finish != @new.Finish)
        {
            yield return @new.Finish
                ? "now stands for finishing the untried parts."
                : "no longer stands for finishing the untried parts.";
        }

        if (old.WorseOnPurpose != @new.WorseOnPurpose)
        {
            yield return @new.WorseOnPurpose is { } why
                ? $"may come after better answers: {why}"
                : "may not come after better answers any more.";
        }

        var (before, after) = (
            old.Conditions.Select(Spaced).ToList(),
            @new.Conditions.Select(Spaced).ToList()
        );
        foreach (var rule in after.Except(before, StringComparer.Ordinal))
        {
            yield return $"now also applies when {rule}.";
        }

        foreach (var rule in before.Except(after, StringComparer.Ordinal))
        {
            yield return $"no longer applies when {rule}.";
        }
    }

    private static IEnumerable<string> ReTests(Protocol old, Protocol @new)
    {
        foreach (var (before, after) in Pairs(old.ReTests, @new.ReTests, r => r.Outcome.Name))
        {
            if (before is null || after is null)
            {
                yield return before is null
                    ? $"{after!.Outcome.Title} has an error of measurement of {after.Error} now."
                    : $"{before.Outcome.Title} no longer has an error of measurement.";
            }
            else if (before.Error != after.Error || before.After != after.After)
            {
                yield return $"{after.Outcome.Title}: the error of measurement is {Error(after)} instead of {Error(before)}.";
            }
        }
    }

    private static string Error(ReTest reTest) =>
        reTest.After is null ? $"{reTest.Error}" : $"{reTest.Error} after {reTest.After}";

    private static string Until(Age? age) => age is { } until ? $"until {until}" : "never";

    private static string Step(Rational? step) => step?.ToString() ?? "no step (a fraction)";

    private static string Unit(Unit unit) => unit.Symbol.Length == 0 ? "no unit" : unit.Symbol;
}
