using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Where the child's two sides differ, and where something moved off the middle. A difference in one task is told as what was
/// seen and never as a weak side; only a score that asks for agreeing tasks says that.
/// </summary>
internal static class SideNotes
{
    public static List<string> Of(ScoredRecord scored)
    {
        List<string> lines = [.. Weaker(scored), .. Differences(scored), .. Directions(scored)];
        return lines.Count > 0 || !scored.Protocol.Tasks.Any(t => t.IsSided)
            ? lines
            : ["No task came out differently on the child's two sides."];
    }

    private static IEnumerable<string> Weaker(ScoredRecord scored) =>
        NoteScores
            .Told(scored)
            .Where(o => o.Weaker is not null)
            .Select(o => $"{o.Outcome.Title}:{SideSentences.Of(scored, o)}")
            .Where(t => !t.EndsWith(':'));

    private static IEnumerable<string> Differences(ScoredRecord scored) =>
        scored
            .Kept.Where(k => k.Lines.Task.IsSided && k.Giving == Giving.Given)
            .Where(k => k.Lines.Variant.Name is "right" or "left")
            .GroupBy(k => (k.Lines.Task, k.Lines.Response))
            .Select(g => (g.Key.Task, Right: Side(g, "right"), Left: Side(g, "left")))
            .Where(d =>
                d.Right is { State: State.Known }
                && d.Left is { State: State.Known }
                && d.Right.Text != d.Left.Text
            )
            .OrderBy(d => d.Task.Number)
            .Select(d => $"{d.Task.Title}: child's right {Said(d.Right!)}, child's left {Said(d.Left!)}.");

    private static IEnumerable<string> Directions(ScoredRecord scored) =>
        scored
            .Kept.Where(k => k.State == State.Known && k.Lines.Response.Kind == ResponseKind.Direction)
            .Where(k => !k.Text().Contains("middle", StringComparison.OrdinalIgnoreCase))
            .OrderBy(k => k.Lines.Task.Number)
            .Select(k => $"{k.Lines.Task.Title}: goes {Say.Inside(k.Text().TrimEnd('.'))}.");

    private static KeptResult? Side(IEnumerable<KeptResult> kept, string side) =>
        kept.FirstOrDefault(k => k.Lines.Variant.Name == side);

    private static string Said(KeptResult kept) => Say.Inside(kept.Text().TrimEnd('.'));
}
