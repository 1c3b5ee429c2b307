using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says which signs were seen, and how many were looked for or not.</summary>
internal static class ObservationSentences
{
    public static List<string> Of(ScoredRecord scored)
    {
        var slots = scored.Protocol.Program.Observations;
        var giving = GivingReader.From(scored.Protocol.Program, scored.Lines);
        var given = slots
            .Where(s => !scored.Record.IsShortForm || s.Task.ShortForm)
            .Where(s => giving.Of(s.Task, s.Variant) == Giving.Given)
            .ToList();
        var sentences = given
            .Where(s => scored.Record.Fields[s.Field] == 2)
            .GroupBy(s => s.Observation.Text)
            .Select(g =>
                $"Seen: {g.Key.TrimEnd('.')} ({string.Join("; ", g.Select(s => PartNames.Of(s.Task, s.Variant)))})."
            )
            .ToList();
        var looked = given.Count(s => scored.Record.Fields[s.Field] == 1);
        var not = given.Count(s => scored.Record.Fields[s.Field] == 0);
        var rest = Rest(looked, not);
        return rest.Length == 0 ? sentences : [.. sentences, rest];
    }

    private static string Rest(int looked, int not)
    {
        if (looked == 0)
        {
            return not == 0
                ? ""
                : $"{Say.Sentence(Say.Count(not, "sign was", "signs were"))} not looked for.";
        }

        var further = not == 0 ? "" : $", {Say.Count(not)} not looked for";
        return $"{Say.Sentence(Say.Count(looked, "sign was", "signs were"))} looked for and not seen{further}.";
    }
}

/// <summary>Says what happened besides the tasks, and what was corrected afterwards.</summary>
internal static class EventSentences
{
    public static List<string> Of(ScoredRecord scored) =>
        [
            .. RaterSentences.Agreed(scored.Record),
            .. RaterSentences.Finished(scored.Record),
            .. scored.Record.Events.Select(e => Event(e, scored.Protocol)),
            .. scored.Record.Corrections.Select(Correction),
        ];

    private static string Event(SittingEvent one, Protocol protocol)
    {
        var kind = protocol.Events.FirstOrDefault(e => e.Name == one.What);
        var what = kind?.Text.TrimEnd('.') ?? one.What;
        var details = new[]
        {
            one.Task is null ? "" : $"at {TitleOf(one.Task, protocol)}",
            one.Touched is null ? "" : $"touched: {one.Touched.TrimEnd('.')}",
            one.Recovered is null ? "" : $"recovered: {one.Recovered.TrimEnd('.')}",
            one.Done is null ? "" : $"done: {one.Done.TrimEnd('.')}",
        }.Where(d => d.Length > 0);
        return $"{Say.Sentence(OneLine(string.Join("; ", details.Prepend(what))))}.{Stopped(kind)}";
    }

    private static string Stopped(EventKind? kind) =>
        kind is { Stops: not WelfareStop.Nothing }
            ? $" After it {kind.StopsWords} are stopped for the child's welfare; that says nothing about what the child can do."
            : "";

    private static string TitleOf(string name, Protocol protocol)
    {
        var parts = name.Split('.');
        var task = protocol.Tasks.FirstOrDefault(t => t.Name == parts[0]);
        var variant = task?.Variants.FirstOrDefault(v => v.Name == parts[^1]);
        return task is null ? name
            : variant is null ? task.Title
            : PartNames.Of(task, variant);
    }

    private static string Correction(Correction one)
    {
        var day = one.When.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        return OneLine(
            $"Corrected by {one.Who} on {day}: {one.Key} {one.Old} became {one.New} ({one.Why.TrimEnd('.')})."
        );
    }

    private static string OneLine(string text) => text.ReplaceLineEndings(" ");
}

/// <summary>What to keep in mind with every result.</summary>
internal static class CautionSentences
{
    public static List<string> Of(ScoredRecord scored)
    {
        var cautions = new List<string>
        {
            "A screen makes no diagnosis: it says who needs a closer look.",
            "Local rules and the judgement of the licensed clinician come first.",
        };
        if (
            scored.Bands.Any(b =>
                b.Row is not null
                && b.Table.Basis.IsProvisional
                && b.Table.ShortForm == scored.Record.IsShortForm
            )
        )
        {
            cautions.Insert(
                1,
                "Provisional cut-offs do not rest on enough children yet: take their bands as a first guess."
            );
        }

        return cautions;
    }
}
