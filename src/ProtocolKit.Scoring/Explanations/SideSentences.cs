using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says which side is the weaker one, and which tasks show it.</summary>
internal static class SideSentences
{
    /// <summary>To follow the value of a side difference; empty for other values.</summary>
    public static string Of(ScoredRecord scored, OutcomeResult result)
    {
        var lines = scored.Protocol.Program.Outcomes.First(o => o.Outcome == result.Outcome);
        if (lines.Sides is not { } sides || result.Weaker is not { } weaker)
        {
            return "";
        }

        var needed = result.Outcome.SidesAgree ?? 1;
        var left = Titles(scored, sides.Tasks.Where(t => scored.Lines[t.LeftLine] != 0));
        var right = Titles(scored, sides.Tasks.Where(t => scored.Lines[t.RightLine] != 0));
        return weaker switch
        {
            WeakerSide.Left => $" Weaker side: the child's left{By(left)}.",
            WeakerSide.Right => $" Weaker side: the child's right{By(right)}.",
            WeakerSide.Undecided => $" Weaker side: undecided{Shown(left, right)}; {Needs(needed)}.",
            WeakerSide.Neither => $" No weaker side{Shown(left, right)}; {Needs(needed)}.",
            _ => "",
        };
    }

    private static string Needs(int tasks) => $"{Say.Count(tasks, "task", "tasks")} must agree";

    private static string By(List<string> tasks) => $", shown by {Say.List(tasks)}";

    private static string Shown(List<string> left, List<string> right)
    {
        var parts = new[] { One("left", left), One("right", right) }.Where(p => p.Length > 0).ToList();
        return parts.Count == 0 ? "" : $", {Say.List(parts)}";
    }

    private static string One(string side, List<string> tasks) =>
        tasks.Count == 0 ? "" : $"the {side} side weaker in {Say.List(tasks)}";

    private static List<string> Titles(ScoredRecord scored, IEnumerable<SideTaskLines> tasks) =>
        [.. tasks.Select(t => t.Task.Title).Distinct(StringComparer.Ordinal)];
}
