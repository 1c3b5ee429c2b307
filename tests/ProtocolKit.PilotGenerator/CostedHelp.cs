using ProtocolKit.Model;

namespace ProtocolKit.PilotGenerator;

/// <summary>Where help has a cost, what came of it is written too: one level better than the best trial without help.</summary>
public sealed class CostedHelp(Protocol protocol)
{
    /// <summary>Sets the fields that ask about help, and gives what came of it by answer.</summary>
    /// <param name="help">By task, with its side: the help that was given.</param>
    public IReadOnlyDictionary<string, string> Settle(long[] fields, IReadOnlyDictionary<string, string> help)
    {
        var aided = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var asked in protocol.Program.Answers.Where(a => a.IsHelp))
        {
            var rung = help.GetValueOrDefault(Part(asked));
            if (asked.Trial == 1)
            {
                var options = asked.Response.Options.Select(o => o.Text).ToList();
                Set(fields, asked, State.Known, rung is null ? options.Count - 1 : options.IndexOf(rung));
            }
            else if (rung is null)
            {
                Set(fields, asked, State.NotApplicable, 0);
            }
            else
            {
                var level = Math.Min(Alone(fields, asked) + 1, asked.Response.Scale!.Levels.Count - 1);
                Set(fields, asked, State.Known, level);
                aided[Key(asked)] = asked
                    .Response.Scale.Levels.Select(l => l.Points)
                    .Order()
                    .ElementAt((int)level)
                    .ToString();
            }
        }

        return aided;
    }

    private long Alone(long[] fields, AnswerSlot asked) =>
        protocol
            .Program.Answers.Where(a =>
                !a.IsHelp
                && a.Task.Name == HelpLadder.TaskOf(asked.Task.Name)
                && a.Variant.Name == asked.Variant.Name
                && a.Response.Name == asked.Response.Name
                && fields[a.StateField] == (long)State.Known
            )
            .Select(a => fields[a.ValueField])
            .DefaultIfEmpty(0)
            .Max();

    private static void Set(long[] fields, AnswerSlot slot, State state, long value)
    {
        fields[slot.StateField] = (long)state;
        fields[slot.ValueField] = value;
    }

    private static string Part(AnswerSlot asked) => WithSide(HelpLadder.TaskOf(asked.Task.Name), asked);

    private static string Key(AnswerSlot asked) =>
        WithSide($"{HelpLadder.TaskOf(asked.Task.Name)}.{asked.Response.Name}", asked);

    private static string WithSide(string name, AnswerSlot asked) =>
        asked.Variant.Name.Length == 0 ? name : $"{name}.{asked.Variant.Name}";
}
