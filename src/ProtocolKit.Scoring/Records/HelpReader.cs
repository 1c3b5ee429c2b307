using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Reads which help was given, <c>kiss: said again</c>, and what came of it, <c>kiss.rate: 2</c>. The answers themselves are what the child
/// did without help.
/// </summary>
internal sealed class HelpReader(ExtrasReader extras, Protocol protocol, ProblemList problems)
{
    private readonly Dictionary<string, string> _rungs = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> _aided = new(StringComparer.Ordinal);

    /// <summary>By task, with its side: the rung used, in the protocol's words.</summary>
    public IReadOnlyDictionary<string, string> Rungs => _rungs;

    /// <summary>By answer, with its side: what came of it.</summary>
    public IReadOnlyDictionary<string, string> Aided => _aided;

    public void Read(long[] fields)
    {
        var parts = Parts().ToDictionary(p => p.Key, StringComparer.Ordinal);
        var answers = parts
            .Values.SelectMany(p =>
                p.Task.Responses.Where(r => !r.IsNumber).Select(r => (Part: p, Response: r))
            )
            .ToDictionary(a => KeyOf(a.Part, a.Response), StringComparer.Ordinal);
        var entries = extras.Under([.. parts.Keys, .. answers.Keys]);
        foreach (var (key, text) in entries.Where(e => parts.ContainsKey(e.Key)))
        {
            ReadRung(key, text, parts[key].Task);
        }

        foreach (var (key, text) in entries.Where(e => answers.ContainsKey(e.Key)))
        {
            ReadAided(key, text, answers[key].Part, answers[key].Response);
        }

        foreach (var part in parts.Values.Where(p => _rungs.ContainsKey(p.Key)))
        {
            Settle(part, fields);
        }
    }

    private void ReadRung(string key, TextNode text, ProtocolTask task)
    {
        var rungs = task.HelpRungs().Select(r => r.Text).ToList();
        var rung =
            rungs.Find(r => r == text.Text)
            ?? task.HelpRungs().FirstOrDefault(r => r.IsCalled(text.Text))?.Text;
        if (rung is not null)
        {
            _rungs[key] = rung;
            return;
        }

        var isStart = task.Help.Any(r => r.IsCalled(text.Text));
        problems.Add(
            text.Origin,
            key,
            isStart
                ? $"{Say.Quote(text.Text)} is how {key} begins, and no help."
                : $"{Say.Quote(text.Text)} is no help this task offers.",
            isStart && rungs.Count == 0 ? "Take the line out." : $"Write {Say.List(rungs, "or")}."
        );
    }

    private void ReadAided(string key, TextNode text, Part part, Response response)
    {
        if (!_rungs.ContainsKey(part.Key))
        {
            problems.Add(
                text.Origin,
                key,
                $"{key} says what came of help, but not which help was given.",
                $"Add a line such as {part.Key}: {part.Task.HelpRungs()[0].Text}; or take this one out."
            );
            return;
        }

        var value = AnswerValue.Read(response, text.Text);
        if (value.IsKnown)
        {
            _aided[key] = text.Text.Trim();
            return;
        }

        problems.Add(
            text.Origin,
            key,
            value.IsWrong
                ? $"{key} {value.Fault}."
                : $"{key} says that it was not tried, but help was given.",
            value.IsWrong ? value.Mend : "Write what came of it."
        );
    }

    /// <summary>Where help has a cost, what came of it is needed; else it is missed.</summary>
    private void Settle(Part part, long[] fields)
    {
        var slots = protocol.Program.Answers.Where(s => s.IsHelp && IsOf(s, part)).ToList();
        var ratings = part.Task.Responses.Where(r => r.Kind == ResponseKind.Rating).ToList();
        var missing = ratings.Select(r => KeyOf(part, r)).Where(k => !_aided.ContainsKey(k)).ToList();
        if (missing.Count > 0)
        {
            var message = $"{part.Key} was tried with help, but not what came of it: {Say.List(missing)}";
            if (slots.Count > 0)
            {
                problems.Add(
                    default,
                    missing[0],
                    message + ".",
                    $"Add under help: {missing[0]}: and what the child then did."
                );
                return;
            }

            problems.Remark($"{message} is not recorded.");
        }

        foreach (var slot in slots)
        {
            fields[slot.StateField] = (long)State.Known;
            fields[slot.ValueField] =
                slot.Trial == 1
                    ? slot.Response.Options.ToList().FindIndex(o => o.Text == _rungs[part.Key])
                    : AnswerValue.Read(slot.Response, _aided[KeyOf(part, slot.Response)]).Steps;
        }
    }

    private static bool IsOf(AnswerSlot slot, Part part) =>
        slot.Variant.Name == part.Variant.Name && slot.Task.Name == $"{part.Task.Name}.{HelpLadder.With}";

    private static string KeyOf(Part part, Response response) =>
        part.Variant.Name.Length == 0
            ? $"{part.Task.Name}.{response.Name}"
            : $"{part.Task.Name}.{response.Name}.{part.Variant.Name}";

    private IEnumerable<Part> Parts() =>
        protocol
            .Tasks.Where(t => t.HelpRungs().Count > 0)
            .SelectMany(t =>
                t.Variants.Select(v => new Part(v.Name.Length == 0 ? t.Name : $"{t.Name}.{v.Name}", t, v))
            );

    private sealed record Part(string Key, ProtocolTask Task, Variant Variant);
}
