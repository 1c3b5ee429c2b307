using ProtocolKit.Model;

namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 4, on which tasks are given: start points, stop rules, skips and gates.</summary>
internal static class RoutingMessages
{
    private const string Tasks = "section s \"S\"\n  task a item(three)\n  task b item(three)\n";
    private const string Score = "score t \"T\"\n  add up rate of every task in s\n";
    private const string Question = "case-history\n  ask sore \"Is the mouth sore?\"";

    private static readonly Descriptor DifficultyEntry = new(
        "PK4030",
        Severity.Error,
        "A start point without an order of difficulty",
        "Tasks below a start point count in full although nobody gave them. That is fair only where the section says that its tasks stand from the easiest to the hardest: order of difficulty.",
        Tasks + "  start at b from 5;0\n  go back until 1 in a row full\n" + Score,
        Tasks + "  order of difficulty\n  start at b from 5;0\n  go back until 1 in a row full\n" + Score
    );

    private static readonly Descriptor GoBackEntry = new(
        "PK4031",
        Severity.Error,
        "A start point without a way back",
        "A child who finds the first tasks hard must be taken back to easier ones: go back until 2 in a row full. Without that there can be no start point; without a start point there is nowhere to go back from.",
        Tasks + "  order of difficulty\n  start at b from 5;0\n" + Score,
        Tasks + "  order of difficulty\n  start at b from 5;0\n  go back until 1 in a row full\n" + Score
    );

    private static readonly Descriptor StopPointsEntry = new(
        "PK4032",
        Severity.Error,
        "A stop rule that doesn't count failures",
        "A stop rule counts tasks rated with the poorest level of their scale: the fewest points where higher is better, the most where lower is better.",
        Tasks + "  stop after 2 tasks in a row rated 1\n" + Score,
        Tasks + "  stop after 2 tasks in a row rated 0\n" + Score
    );

    private static readonly Descriptor AheadEntry = new(
        "PK4033",
        Severity.Error,
        "A skip that asks what isn't known yet",
        "Whether a task is skipped is decided before it is given. So a skip may ask about answers of tasks that come earlier in the giving order, and not about scores, bands or later tasks.",
        "task a item(three)\n  skip when b = 0, left out\ntask b item(three)\nscore t \"T\" = a + b\n",
        "task a item(three)\ntask b item(three)\n  skip when a = 0, left out\nscore t \"T\" = a + b\n"
    );

    private static readonly Descriptor ReachEntry = new(
        "PK4034",
        Severity.Error,
        "A rule no sitting can come to",
        "A stop after more tasks than the section rates can't happen. A start at its first task, or one that isn't later for older children, changes nothing.",
        Tasks + "  stop after 3 tasks in a row rated 0\n" + Score,
        Tasks + "  stop after 2 tasks in a row rated 0\n" + Score
    );

    private static readonly Descriptor OrderEntry = new(
        "PK4035",
        Severity.Error,
        "Two orders for one section",
        "An order of difficulty is the order in which the section's tasks are written and given, from the easiest to the hardest. The giving order may put other tasks between them and may not turn them round.",
        Tasks + "  order of difficulty\n" + Score + "giving order\n  b, a\n",
        Tasks + "  order of difficulty\n" + Score + "giving order\n  a, b\n"
    );

    private static readonly Descriptor GateEntry = new(
        "PK4036",
        Severity.Error,
        "A gate on a question without yes or no",
        "Only a yes or a no of the case history can close tasks: end the question with yes-no.",
        "task a item(three)\nscore t \"T\" = 1 * a\n" + Question + "\n    yes closes a\n",
        "task a item(three)\nscore t \"T\" = 1 * a\n" + Question + ", yes-no\n    yes closes a\n"
    );

    private static readonly Descriptor IdleGateEntry = new(
        "PK4037",
        Severity.Warning,
        "A gate or stop that closes nothing",
        "No task has the contact that is named, so the answer or event changes nothing.",
        "task a item(three)\nscore t \"T\" = 1 * a\n" + Question + ", yes-no\n    yes closes mouth contact\n",
        "task a item(three)\nscore t \"T\" = 1 * a\n" + Question + ", yes-no\n    yes closes a\n"
    );

    private static readonly Descriptor LeftOutRowEntry = new(
        "PK4038",
        Severity.Warning,
        "A row for tasks left out where none can be",
        "No skip and no stop rule can leave out a task this value rests on, so “also with tasks left out” says nothing here.",
        Tasks
            + Score
            + "cut-offs t\n  ages  low\n  4;0 to 5;11, also with tasks left out  0 to 4\n  basis provisional \"x\"\n",
        Tasks + Score + "cut-offs t\n  ages  low\n  4;0 to 5;11  0 to 4\n  basis provisional \"x\"\n"
    );

    public static Message Difficulty(string section) =>
        new(
            DifficultyEntry,
            $"The section {section} has a start point, but nothing says that its tasks stand from the easiest to the hardest.",
            "Add a line to the section: order of difficulty"
        );

    public static Message NoWayBack(string section) =>
        new(
            GoBackEntry,
            $"The section {section} has a start point, but doesn't say how far to go back when the first tasks are hard.",
            "Add a line such as: go back until 2 in a row full"
        );

    public static Message NoStart(string section) =>
        new(
            GoBackEntry,
            $"The section {section} has no start point to go back from.",
            "Add a line such as: start at …, from 6;0 on, or take this one out."
        );

    public static Message StopPoints(string scale, Rational written, Rational poorest) =>
        new(
            StopPointsEntry,
            $"A stop rule counts failures, and {written} is not the poorest level of the scale {scale}.",
            $"Write rated {poorest}.",
            poorest.ToString()
        );

    public static Message StopMiddle(string scale) =>
        new(
            StopPointsEntry,
            $"A stop rule counts failures, and on the scale {scale} neither end is the poorest.",
            "Leave the rule out, or rate the section's tasks on a scale with a better end."
        );

    public static Message Ahead(string task, string read) =>
        new(
            AheadEntry,
            task == read
                ? $"Whether {task} is skipped can't depend on its own answer."
                : $"{read} is given after {task}, so it can't decide whether {task} is skipped.",
            "Ask about a task that comes earlier in the giving order."
        );

    public static Message AheadValue(string name) =>
        new(
            AheadEntry,
            $"{name} is worked out when the sitting is over, so it can't decide whether a task is skipped.",
            "Ask about the answers of earlier tasks."
        );

    public static Message Circle(string task, string read) =>
        new(
            AheadEntry,
            $"Whether {task} is skipped depends on {read}, which a start point may still go back to.",
            "Ask about a task of a section without start points."
        );

    public static Message Reach(string what, string fix) => new(ReachEntry, what, fix);

    public static Message Order(string first, string second) =>
        new(
            OrderEntry,
            $"By the order of difficulty {first} comes before {second}, but the giving order turns them round.",
            "Write and give them in one order."
        );

    public static Message NotYesNo(string question) =>
        new(
            GateEntry,
            $"The question {question} is answered in words, so no yes or no can close anything.",
            "End the question's line with: , yes-no"
        );

    public static Message Idle(string what) =>
        new(IdleGateEntry, $"No task of this protocol touches so: {what}.", "Take it out, or name tasks.");

    public static Message LeftOutRow(string name) =>
        new(
            LeftOutRowEntry,
            $"No task that {name} rests on can be left out.",
            "Take out “, also with tasks left out”."
        );
}
