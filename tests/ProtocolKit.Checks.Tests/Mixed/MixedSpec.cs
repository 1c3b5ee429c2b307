using System.Globalization;
using System.Text;

namespace ProtocolKit.Checks.Tests.Mixed;

/// <summary>How a task of the routed section is tried.</summary>
internal enum Trying
{
    Once,
    BestOfTwo,

    /// <summary>Help that costs a point.</summary>
    WithHelp,
}

/// <param name="SkipAfter">An earlier task: rated 0, it skips this one; -1: none does.</param>
internal sealed record MixedTask(string Name, Trying Trying, int SkipAfter, string Credit);

/// <summary>
/// An invented protocol drawn at random that mixes what other tests try alone: a section with start points, a stop rule, skips,
/// trials, help with its cost and a task the case history may close; a sided section; sums in three policies, a median, a mean,
/// a weighted sum, a choice, a side difference, a table, a score of scores; cut-offs and actions over them.
/// </summary>
internal sealed record MixedSpec
{
    public required IReadOnlyList<MixedTask> Tasks { get; init; }
    public bool ByDifficulty { get; init; }

    /// <summary>After so many in a row; 0: never.</summary>
    public int Stop { get; init; }

    /// <summary>Where children of five start; 0: at the first task.</summary>
    public int Start { get; init; }
    public int GoBack { get; init; }

    /// <summary>The task a yes of the case history closes; -1: none.</summary>
    public int Closes { get; init; }

    /// <summary>Empty, <c>blocks</c>, or <c>scaled up, at most N</c>, for the sums t and u and for the score of scores.</summary>
    public required string PolicyOfT { get; init; }
    public required string PolicyOfU { get; init; }
    public required string PolicyOfAll { get; init; }

    /// <summary>The weights of a, t and u in the weighted sum.</summary>
    public required IReadOnlyList<int> Weights { get; init; }

    /// <summary>How many bands have to be middle or worse.</summary>
    public int Bands { get; init; }

    /// <summary>The least value of each middle and high band, as shares of the range in tenths.</summary>
    public required IReadOnlyList<(int Middle, int High)> Limits { get; init; }

    public int MostOfT => 2 * Tasks.Count;

    public static MixedSpec Draw(Random random)
    {
        var count = random.Next(3, 7);
        var byDifficulty = random.Next(2) == 0;
        var start = byDifficulty && random.Next(3) == 0 ? random.Next(1, count) : 0;
        var tasks = Enumerable
            .Range(0, count)
            .Select(i => new MixedTask(
                ((char)('a' + i)).ToString(),
                (Trying)Math.Max(0, random.Next(-1, 3)),
                start == 0 && i > 0 && random.Next(4) == 0 ? random.Next(i) : -1,
                Pick("left out", "counts lowest", "counts full")
            ))
            .ToList();
        return new MixedSpec
        {
            Tasks = tasks,
            ByDifficulty = byDifficulty,
            Stop = random.Next(4),
            Start = start,
            GoBack = random.Next(1, 3),
            Closes = random.Next(3) == 0 ? random.Next(count) : -1,
            PolicyOfT = Pick("", "blocks", $"scaled up, at most {random.Next(1, count)}"),
            PolicyOfU = Pick("", "blocks", $"scaled up, at most {random.Next(1, 4)}"),
            PolicyOfAll = Pick("", "blocks", "scaled up, at most 1"),
            Weights = [random.Next(1, 4), random.Next(1, 4), random.Next(1, 4)],
            Bands = random.Next(1, 4),
            Limits = [.. Enumerable.Range(0, 3).Select(_ => (random.Next(1, 5), random.Next(5, 10)))],
        };

        string Pick(params string[] words) => words[random.Next(words.Length)];
    }

    /// <summary>The first value of the middle and of the high band.</summary>
    public static (int Middle, int High) Split((int Middle, int High) limits, int least, int most) =>
        (
            least + Math.Max(1, (most - least) * limits.Middle / 10),
            least + Math.Max(2, (most - least) * limits.High / 10)
        );

    public (int Least, int Most) RangeOf(string score) =>
        score switch
        {
            "t" => (0, MostOfT),
            "v" => (-Weights[2] * 8, (Weights[0] * 2) + (Weights[1] * MostOfT)),
            _ => (0, Math.Max(MostOfT, 8)),
        };

    public static readonly IReadOnlyList<string> Banded = ["t", "v", "choice"];

    public string ToText()
    {
        var text = new StringBuilder();
        text.Append("section s \"S\"\n");
        if (ByDifficulty)
        {
            text.Append("  order of difficulty \"invented\"\n");
        }

        if (Start > 0)
        {
            text.Append(CultureInfo.InvariantCulture, $"  start at {Tasks[Start].Name} from 5;0\n");
            text.Append(CultureInfo.InvariantCulture, $"  go back until {GoBack} in a row full\n");
        }

        if (Stop > 0)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"  stop after {Stop} {(Stop == 1 ? "task" : "tasks in a row")} rated 0\n"
            );
        }

        foreach (var task in Tasks)
        {
            Task(text, task);
        }

        text.Append("section w \"W\"\n  task x item(three), each side right, left\n");
        text.Append("  task y item(three), each side right, left\n");
        if (Closes >= 0)
        {
            text.Append("case-history\n  ask sore \"Is it sore?\", yes-no\n");
            text.Append(CultureInfo.InvariantCulture, $"    yes closes {Tasks[Closes].Name}\n");
        }

        Scores(text);
        CutOffs(text);
        text.Append("actions\n  refer \"Refer\" when any band is low\n");
        text.Append(
            CultureInfo.InvariantCulture,
            $"  again \"Again\" when {Bands} or more bands are middle or worse\n"
        );
        text.Append("  finish \"Finish\", finish\n    when any band is undecided\n");
        text.Append("  none \"None\" when no other action applies\n");
        return text.ToString();
    }

    private void Task(StringBuilder text, MixedTask task)
    {
        text.Append(CultureInfo.InvariantCulture, $"  task {task.Name}\n");
        text.Append(task.Trying == Trying.BestOfTwo ? "    trials 2, keep highest rate\n" : "");
        text.Append("    rate three\n");
        text.Append(task.Trying == Trying.WithHelp ? "    help said again, moved by hand (costs 1)\n" : "");
        if (task.SkipAfter >= 0)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"    skip when {Tasks[task.SkipAfter].Name} = 0, {task.Credit}\n"
            );
        }
    }

    private void Scores(StringBuilder text)
    {
        Sum("t", "rate of every task in s", PolicyOfT);
        Sum("u", "rate of every task in w", PolicyOfU);
        text.Append("score m \"M\" step 0.5 = median of (a, b, c)\n");
        text.Append("score n \"N\" step 0.1 = mean of (a, b, c)\n");
        text.Append(
            CultureInfo.InvariantCulture,
            $"score v \"V\" = {Weights[0]} * a + {Weights[1]} * t - {Weights[2]} * u\n"
        );
        text.Append("score choice \"C\" = if a = 2 and b >= 1 then t otherwise u\n");
        text.Append("side difference diff \"D\"\n  rate of every sided task in w\n");
        text.Append("  weaker side needs 1 task that agrees\n");
        Sum("all", "(t, u)", PolicyOfAll);
        text.Append("table p \"P\" of u\n  raw     4;0 to 4;11  5;0 to 5;11\n  0 to 2  1  2\n");
        text.Append("  3 to 6  20  10\n  7 to 8  90  80\n  basis provisional \"invented\"\n");

        void Sum(string name, string parts, string policy)
        {
            text.Append(CultureInfo.InvariantCulture, $"score {name} \"{name}\"\n  add up {parts}\n");
            text.Append(policy.Length == 0 ? "" : $"  untried {policy}\n");
        }
    }

    private void CutOffs(StringBuilder text)
    {
        for (var i = 0; i < Banded.Count; i++)
        {
            var (least, most) = RangeOf(Banded[i]);
            var (middle, high) = Split(Limits[i], least, most);
            text.Append(CultureInfo.InvariantCulture, $"cut-offs {Banded[i]}\n");
            text.Append("  ages         low  middle  high\n");
            text.Append(
                CultureInfo.InvariantCulture,
                $"  4;0 to 5;11  {least} to {middle - 1}  {middle} to {high - 1}  {high} to {most}\n"
            );
            text.Append("  basis provisional \"invented\"\n");
        }
    }
}
