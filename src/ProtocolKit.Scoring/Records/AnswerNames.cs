using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>What to say of an answer whose name the protocol doesn't have.</summary>
internal static class AnswerNames
{
    public static string GiveAnAnswer { get; } =
        "Write the answer, or why it wasn't tried: "
        + string.Join(", ", States.Untried.Select(u => u.Code))
        + ".";

    public static void ReportUnknown(Entry entry, Protocol protocol, ProblemList problems)
    {
        var key = entry.Key;
        if (!key.Contains('.', StringComparison.Ordinal) && NameGuard.LooksLikeName(key))
        {
            NameGuard.Refuse(problems, entry.Origin, key);
            return;
        }

        var (message, mend) = Describe(key, protocol, problems);
        problems.Add(entry.Origin, key, message, mend);
    }

    private static (string Message, string Mend) Describe(string key, Protocol protocol, ProblemList problems)
    {
        var program = protocol.Program;
        var first = key.Split('.')[0];
        var ofTask = FullNames(program, first);
        if (ofTask.Count > 0)
        {
            return IsObservation(program, key)
                ? ($"{Say.Quote(key)} is an observation, not an answer.", "Move the line to observations.")
                : ($"{Say.Quote(key)} is not a full name.", Full(first, ofTask));
        }

        if (protocol.Outcomes.FirstOrDefault(o => o.Name == key) is { } outcome)
        {
            return ($"{outcome.Name} is worked out from the answers.", "Take the line out.");
        }

        var message = $"{Say.Quote(key)} is no answer of this protocol.";
        if (problems.Suggest(key, program.Answers.Select(s => s.Key)) is { } whole)
        {
            return (message, $"Perhaps you mean {whole}.");
        }

        var task = problems.Suggest(first, program.Answers.Select(s => s.Task.Name).Distinct());
        return task is null
            ? (message, "Take the line out, or write the name as it stands on the sheet.")
            : (message, $"Perhaps you mean {task}. " + Full(task, FullNames(program, task)));
    }

    private static List<string> FullNames(ScoringProgram program, string task) =>
        [.. program.Answers.Where(s => s.Task.Name == task).Select(s => s.Key)];

    private static string Full(string task, List<string> names) =>
        names.Count == 1
            ? $"The answer of {task} is {names[0]}."
            : $"The answers of {task} are {Say.List(names)}.";

    private static bool IsObservation(ScoringProgram program, string key) =>
        program.Observations.Any(o => o.Key == key);
}
