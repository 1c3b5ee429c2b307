using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says which help a task had, what came of it, and what of that counts.</summary>
internal static class HelpSentences
{
    /// <summary>To follow the answers of a task, or of one side of it; empty without help.</summary>
    public static string Of(ScoredRecord scored, IReadOnlyList<KeptResult> part)
    {
        if (!scored.Record.Help.TryGetValue(AnswerSentences.Key(part[0]), out var rung))
        {
            return "";
        }

        var aided = part.Select(k => Aided(scored, k)).Where(t => t.Length > 0).ToList();
        var with = aided.Count == 0 ? "" : $", with it {Say.List(aided)}";
        return $"; help used: {rung}{with}{Counts(scored, part, rung)}";
    }

    private static string Aided(ScoredRecord scored, KeptResult kept)
    {
        if (!scored.Record.Aided.TryGetValue(kept.Lines.Key, out var written))
        {
            return "";
        }

        var value = AnswerValue.Read(kept.Lines.Response, written);
        return Say.Inside(AnswerText.Of(kept.Lines.Response, value.Steps).TrimEnd('.'));
    }

    /// <summary>Where help has a cost: what the child did alone, what help costs, and what counts.</summary>
    private static string Counts(ScoredRecord scored, IReadOnlyList<KeptResult> part, string rung)
    {
        var task = part[0].Lines.Task;
        if (!task.HelpHasCost())
        {
            return part.Any(k => scored.Record.Aided.ContainsKey(k.Lines.Key)) ? " (without it counts)" : "";
        }

        var cost = task.Help.First(h => h.Text == rung).Cost;
        var alone = part.Where(k => k.State == State.Known && k.Lines.Step is not null)
            .Select(k => Alone(scored, k))
            .ToList();
        return alone.Count == 0
            ? ""
            : $"; alone {Say.List(alone)}, help costs {cost}, so {Say.List(part.Where(k => k.State == State.Known && k.Lines.Step is not null).Select(k => k.Text()))} counts";
    }

    private static string Alone(ScoredRecord scored, KeptResult kept)
    {
        var slot = scored.Protocol.Program.Answers.First(s =>
            s.Task == kept.Lines.Task
            && s.Variant == kept.Lines.Variant
            && s.Response == kept.Lines.Response
            && (kept.Trial == 0 || s.Trial == kept.Trial)
        );
        return AnswerText.Of(kept.Lines.Response, scored.Record.Fields[slot.ValueField]);
    }
}
