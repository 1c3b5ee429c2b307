using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// What a sitting came to in words for a family: names of tasks and actions, never a number of points, never a band. What was
/// not tried is never told as something the child can't do.
/// </summary>
internal sealed class PlainWords(ScoredRecord scored)
{
    /// <summary>More names than this are no help to anybody; one or two of each section are told.</summary>
    private const int MostNames = 8;

    /// <summary>Sections of which something was given, by title.</summary>
    public string Done() =>
        Say.Titles(
            scored
                .Kept.Where(k => k.State == State.Known && k.Giving == Giving.Given)
                .OrderBy(k => k.Lines.Task.Number)
                .Select(k => Say.Inside(k.Lines.Task.Section?.Title ?? k.Lines.Task.Title))
                .Distinct(StringComparer.Ordinal)
        );

    /// <summary>Tasks rated at the top of their scale on every side.</summary>
    public string Strengths() => Names(Rated().Where(t => t.All(IsBest)));

    /// <summary>Tasks rated below the top of their scale on some side.</summary>
    public string Harder() => Names(Rated().Where(t => !t.All(IsBest)));

    /// <summary>Tasks of which some part was not tried; what was never planned is not missing.</summary>
    public string Untried() =>
        Say.Titles(
            scored
                .Kept.Where(k => k.State.IsUntried() && k.State != State.NotPlanned)
                .OrderBy(k => k.Lines.Task.Number)
                .Select(k => Say.Inside(k.Lines.Task.Title))
                .Distinct(StringComparer.Ordinal)
        );

    /// <summary>Every action that applies with its urgency; where a clinician decided otherwise, that decision.</summary>
    public string Actions()
    {
        if (scored.Record.Override is { } own)
        {
            var action = scored.Protocol.Actions.FirstOrDefault(a => a.Name == own.Action);
            return action is null ? own.Action : Say.Inside(ResultSentences.Title(action));
        }

        return Say.Titles(
            scored
                .Actions.Where(a => a.Decision == Decision.Applies)
                .Select(a => Say.Inside(ResultSentences.Title(a.Action)))
        );
    }

    /// <summary>The days as a family writes them: <c>4 March 2026</c>. Other languages keep the order of ISO 8601.</summary>
    public string Days() =>
        Say.List(
            scored.Record.Seen.Select(d =>
                scored.Protocol.Language.StartsWith("en", StringComparison.Ordinal)
                    ? d.ToString("d MMMM yyyy", CultureInfo.InvariantCulture)
                    : Say.Day(d)
            )
        );

    /// <summary>Tasks with ratings in which more is better, all of them known.</summary>
    private IEnumerable<IGrouping<ProtocolTask, KeptResult>> Rated() =>
        scored
            .Kept.Where(k =>
                k.Giving == Giving.Given
                && k.Lines.Response is { Kind: ResponseKind.Rating, Scale.Better: Better.Higher }
            )
            .OrderBy(k => k.Lines.Task.Number)
            .GroupBy(k => k.Lines.Task)
            .Where(t => t.All(k => k.State == State.Known));

    private static bool IsBest(KeptResult kept) => kept.Text() == kept.Lines.Response.High.ToString();

    /// <summary>At most so many, in turn from each section, told in giving order.</summary>
    private static string Names(IEnumerable<IGrouping<ProtocolTask, KeptResult>> tasks)
    {
        var chosen = tasks
            .Select(t => t.Key)
            .GroupBy(t => t.Section?.Name ?? "")
            .SelectMany(s => s.Select((task, turn) => (task, turn)))
            .OrderBy(t => t.turn)
            .ThenBy(t => t.task.Number)
            .Take(MostNames)
            .Select(t => t.task)
            .OrderBy(t => t.Number);
        return Say.Titles(chosen.Select(t => Say.Inside(t.Title)));
    }
}
