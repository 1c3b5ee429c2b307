using ProtocolKit.Model;
using static ProtocolKit.Workspace.Comparing.Matching;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>What the child meets and what can be written down.</summary>
internal static class FormChanges
{
    public static IReadOnlyList<string> Of(Protocol old, Protocol @new)
    {
        var changes = new List<string>();
        if (old.Name != @new.Name)
        {
            changes.Add($"The protocol is called {@new.Name} instead of {old.Name}.");
        }

        if (old.Language != @new.Language)
        {
            changes.Add($"The spoken language is {@new.Language} instead of {old.Language}.");
        }

        foreach (var (before, after) in Pairs(old.Tasks, @new.Tasks, t => t.Name))
        {
            if (before is null)
            {
                changes.Add($"{after!.Title} ({after.Name}) is a new task.");
            }
            else if (after is null)
            {
                changes.Add($"{before.Title} ({before.Name}) is no longer a task.");
            }
            else
            {
                changes.AddRange(Task(before, after).Select(c => $"{after.Title}: {c}"));
            }
        }

        return changes;
    }

    private static IEnumerable<string> Task(ProtocolTask old, ProtocolTask @new)
    {
        if (old.Contact != @new.Contact)
        {
            yield return $"touches {Touch(@new.Contact)} instead of {Touch(old.Contact)}.";
        }

        foreach (var (before, after) in Pairs(old.Materials, @new.Materials, m => m.Name))
        {
            if (before is null)
            {
                yield return $"needs {after!.Name} too.";
            }
            else if (after is null)
            {
                yield return $"no longer needs {before.Name}.";
            }
            else if (before.Text != after.Text)
            {
                yield return $"{after.Name} is {Quote(after.Text)} instead of {Quote(before.Text)}.";
            }
        }

        foreach (var change in Variants(old, @new).Concat(Answers(old, @new)).Concat(Signs(old, @new)))
        {
            yield return change;
        }
    }

    private static IEnumerable<string> Variants(ProtocolTask old, ProtocolTask @new)
    {
        foreach (var (before, after) in Pairs(old.Variants, @new.Variants, v => v.Name))
        {
            if (before is null)
            {
                yield return after!.Name.Length == 0 ? "is given once." : $"is given for {after.Name} too.";
                continue;
            }

            if (after is null)
            {
                yield return before.Name.Length == 0
                    ? "is no longer given just once."
                    : $"is no longer given for {before.Name}.";
                continue;
            }

            var where = after.Name.Length == 0 ? "" : $", {after.Name}";
            if (!before.Say.SequenceEqual(after.Say))
            {
                yield return $"says {Quote(after.Say)} instead of {Quote(before.Say)}{where}.";
            }

            if (!before.Show.SequenceEqual(after.Show))
            {
                yield return $"shows {Quote(after.Show)} instead of {Quote(before.Show)}{where}.";
            }

            if (before.Text != after.Text)
            {
                yield return $"{after.Name} is called {Quote(after.Text)} instead of {Quote(before.Text)}.";
            }
        }
    }

    private static IEnumerable<string> Answers(ProtocolTask old, ProtocolTask @new)
    {
        foreach (var (before, after) in Pairs(old.Responses, @new.Responses, r => r.Name))
        {
            if (before is null)
            {
                yield return $"asks for {after!.Name} too.";
            }
            else if (after is null)
            {
                yield return $"no longer asks for {before.Name}.";
            }
            else
            {
                foreach (var change in Answer(before, after))
                {
                    yield return change;
                }
            }
        }
    }

    private static IEnumerable<string> Answer(Response old, Response @new)
    {
        if (old.Kind != @new.Kind)
        {
            yield return $"{@new.Name} is another kind of answer.";
            yield break;
        }

        if (@new.IsNumber && Range(old) != Range(@new))
        {
            yield return $"{@new.Name} runs {Range(@new)} instead of {Range(old)}.";
        }

        if (old.Spans != @new.Spans)
        {
            yield return $"{@new.Name} spans {Word(@new.Spans)} instead of {Word(old.Spans)}.";
        }

        if (old.WeakSide != @new.WeakSide)
        {
            yield return $"the weak side of {@new.Name} is the {Word(@new.WeakSide)} instead of the {Word(old.WeakSide)}.";
        }

        if (old.Question != @new.Question)
        {
            yield return $"{@new.Name} asks {OrNothing(@new.Question)} instead of {OrNothing(old.Question)}.";
        }

        var levels = Pairs(old.Scale?.Levels ?? [], @new.Scale?.Levels ?? [], l => l.Points.ToString());
        foreach (var (before, after) in levels)
        {
            if (before is null)
            {
                yield return $"{@new.Name} has a new level {after!.Points} {Quote(after.Text)}.";
            }
            else if (after is null)
            {
                yield return $"{@new.Name} no longer has the level {before.Points} {Quote(before.Text)}.";
            }
            else if (before.Text != after.Text)
            {
                yield return $"level {after.Points} of {@new.Name} is {Quote(after.Text)} instead of {Quote(before.Text)}.";
            }
            else if (before.Example != after.Example)
            {
                yield return $"the example of level {after.Points} of {@new.Name} is {OrNothing(after.Example)} instead of {OrNothing(before.Example)}.";
            }
        }

        foreach (var (before, after) in Pairs(old.Options, @new.Options, o => o.Name))
        {
            if (before?.Text != after?.Text)
            {
                yield return before is null
                    ? $"{@new.Name} has a new option {after!.Name} {Quote(after.Text)}."
                : after is null ? $"{@new.Name} no longer has the option {before.Name}."
                : $"option {after.Name} is {Quote(after.Text)} instead of {Quote(before.Text)}.";
            }
        }
    }

    private static IEnumerable<string> Signs(ProtocolTask old, ProtocolTask @new)
    {
        var signs = Pairs(
            old.Ticks.Select(t => t.Observation),
            @new.Ticks.Select(t => t.Observation),
            o => o.Name
        );
        foreach (var (before, after) in signs)
        {
            if (before?.Text != after?.Text)
            {
                yield return before is null ? $"has the sign {after!.Name} to tick too."
                : after is null ? $"no longer has the sign {before.Name} to tick."
                : $"the sign {after.Name} is {Quote(after.Text)} instead of {Quote(before.Text)}.";
            }
        }
    }

    private static string Range(Response r) =>
        $"{r.Low} to {r.High} {r.Unit.Symbol}".TrimEnd() + $" in steps of {r.Step}";

    private static string Touch(Contact contact) =>
        contact == Contact.None ? "nothing" : $"the {contact.ToString().ToLowerInvariant()}";

    private static string Word<T>(T value)
        where T : struct, Enum =>
        value.ToString() is "Unstated" ? "unstated" : value.ToString().ToLowerInvariant();
}
