using ProtocolKit.Calibration.Norms;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// How long tasks and whole sittings take. Quartiles by Hyndman RJ and Fan Y (1996), American Statistician 50:361-365, definition 7,
/// which is R's own.
/// </summary>
internal static class TimeTables
{
    /// <summary>A row each task some record has a time of, in giving order; where none has, no row and a sentence.</summary>
    public static EvidenceTable Tasks(Protocol protocol, IReadOnlyList<StudySitting> children)
    {
        var rows = protocol
            .Tasks.OrderBy(t => t.Number)
            .Select(t => (Task: t, Seconds: Of(children, c => SecondsOf(c, t))))
            .Where(t => t.Seconds.Length > 0)
            .Select(t => Row(t.Task.Title, t.Seconds, children.Count))
            .ToList();
        return new EvidenceTable(
            "task-seconds",
            "Seconds a task took",
            Columns("task", "Task"),
            rows,
            rows.Count == 0
                ? $"No record says how long a task took: the sitting page counts it, and a table may have columns {RecordKeys.TaskSeconds}.task."
                : "From turning to a task to turning to the next, words, waiting and help included. A page counts while it is in view. Children without a count are missing, not quick."
        );
    }

    public static EvidenceTable Sittings(IReadOnlyList<StudySitting> children)
    {
        var minutes = Of(children, c => c.Minutes is { } m ? Figures.ToDouble(m) : null);
        return new EvidenceTable(
            "minutes",
            "Minutes a sitting took",
            Columns("part", "Part"),
            minutes.Length == 0 ? [] : [Row("Whole sitting", minutes, children.Count)],
            minutes.Length == 0 ? "Nobody wrote down minutes: add a column minutes." : ""
        );
    }

    private static double? SecondsOf(StudySitting child, ProtocolTask task) =>
        child.Scored.Record.TaskSeconds.TryGetValue(task.Name, out var seconds) ? seconds : null;

    private static double[] Of(IReadOnlyList<StudySitting> children, Func<StudySitting, double?> value) =>
        [.. children.Select(value).OfType<double>().Order()];

    private static IReadOnlyList<EvidenceColumn> Columns(string name, string title) =>
        [
            Figures.Column(name, title),
            Figures.Column("n", "Known"),
            Figures.Column("missing", "Missing"),
            Figures.Column("lower-quartile", "Lower quartile"),
            Figures.Column("median", "Median"),
            Figures.Column("upper-quartile", "Upper quartile"),
            Figures.Column("longest", "Longest"),
        ];

    private static IReadOnlyList<EvidenceCell> Row(string title, double[] sorted, int children) =>
        [
            EvidenceCell.Of(title),
            EvidenceCell.Of(sorted.Length),
            EvidenceCell.Of(children - sorted.Length),
            .. new[] { 0.25, 0.5, 0.75, 1 }.Select(p =>
                EvidenceCell.Of(SampleQuantiles.OfSorted(sorted, p), 1)
            ),
        ];
}
