using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Records as rows of a table. Columns are <c>protocol</c>, <c>edition</c>, <c>case</c>, <c>age-months</c> (or
/// <c>born</c>), <c>seen</c>, <c>form</c>, <c>rater</c>; then answers under their full keys,
/// <c>help.task[.side]</c>, <c>observations.task.observation[.side]</c>, <c>history.question</c> and <c>task-seconds.task</c>. A blank cell is no answer: it is
/// refused where an answer was due, exactly as in a record of its own. Where no column holds the case history, no task
/// counts as closed by it: one that was is coded <c>not-possible</c>.
/// </summary>
public static class RecordTable
{
    private const string HelpPrefix = RecordKeys.Help + ".";
    private const string ObservationsPrefix = RecordKeys.Observations + ".";
    private const string HistoryPrefix = RecordKeys.History + ".";
    private const string TaskSecondsPrefix = RecordKeys.TaskSeconds + ".";
    private const string FingerprintsPrefix = RecordKeys.Fingerprints + ".";

    /// <summary>Columns that say which sitting a row is, in the order in which they are written.</summary>
    public static IReadOnlyList<string> SittingColumns { get; } =
    [
        RecordKeys.Protocol,
        RecordKeys.Edition,
        RecordKeys.Case,
        RecordKeys.AgeMonths,
        RecordKeys.Seen,
        RecordKeys.Form,
        RecordKeys.Rater,
    ];

    /// <summary>Reads one row. Nothing is thrown; whatever is wrong is told at once.</summary>
    /// <param name="columns">The names of the columns, each once.</param>
    /// <param name="cells">As many texts as columns.</param>
    /// <param name="line">The line of the file the row begins in, for messages.</param>
    public static RecordReading ReadRow(
        IReadOnlyList<string> columns,
        IReadOnlyList<string> cells,
        string fileName,
        int line,
        Protocol protocol,
        RecordOptions? options = null
    )
    {
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(cells);
        ArgumentNullException.ThrowIfNull(protocol);
        var problems = new ProblemList(fileName);
        var answers = protocol.Program.Answers.Select(a => a.Key).ToHashSet(StringComparer.Ordinal);
        var tree = new Tree(new Origin(fileName, line, 1, 0));
        for (var i = 0; i < columns.Count; i++)
        {
            tree.Add(columns[i], cells[i], answers, new Origin(fileName, line, i + 1, 0));
        }

        if (!columns.Any(c => c.StartsWith(HistoryPrefix, StringComparison.Ordinal)))
        {
            tree.NothingClosed(protocol);
        }

        var record = RecordReader.Read(tree.Root(), protocol, options ?? new RecordOptions(), problems);
        return problems.Any
            ? new RecordReading(null, [.. problems.InOrder().Select(OfTable)])
            : new RecordReading(record, []);
    }

    /// <summary>A table has no parts: the day of the sitting is a column like any other.</summary>
    private static RecordProblem OfTable(RecordProblem problem)
    {
        const string InParts = $" (under {RecordKeys.Parts})";
        return problem with
        {
            Key = problem.Key.Replace(InParts, "", StringComparison.Ordinal),
            Message = problem.Message.Replace(InParts, "", StringComparison.Ordinal),
        };
    }

    /// <summary>A record's cells by column; what it doesn't hold is left out.</summary>
    public static IReadOnlyDictionary<string, string> CellsOf(Protocol protocol, SittingRecord record)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(record);
        var cells = new Dictionary<string, string>(StringComparer.Ordinal)
        {
            [RecordKeys.Protocol] = protocol.Name,
            [RecordKeys.Edition] = protocol.Edition,
            [RecordKeys.Case] = record.Case,
            [RecordKeys.AgeMonths] = record.Age.Months.ToString(CultureInfo.InvariantCulture),
            [RecordKeys.Seen] = record.Seen[0].ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            [RecordKeys.Form] = record.IsShortForm ? RecordKeys.Short : RecordKeys.Full,
            [RecordKeys.Rater] = record.Rater?.Code ?? "",
        };
        foreach (var slot in protocol.Program.Answers.Where(a => !a.IsHelp))
        {
            var state = (State)record.Fields[slot.StateField];
            cells[slot.Key] =
                state == State.NotApplicable
                    ? ""
                    : AnswerValue.Write(slot.Response, state, record.Fields[slot.ValueField]);
        }

        foreach (var (task, rung) in record.Help.Concat(record.Aided))
        {
            cells[HelpPrefix + task] = rung;
        }

        foreach (var slot in protocol.Program.Observations.Where(o => record.Fields[o.Field] > 0))
        {
            cells[ObservationsPrefix + slot.Key] =
                record.Fields[slot.Field] == 2 ? RecordKeys.Seen : RecordKeys.Looked;
        }

        foreach (var slot in protocol.Program.History)
        {
            cells[HistoryPrefix + slot.Key] = record.Fields[slot.Field] == 1 ? RecordKeys.Yes : RecordKeys.No;
        }

        foreach (var (task, seconds) in record.TaskSeconds)
        {
            cells[TaskSecondsPrefix + task] = seconds.ToString(CultureInfo.InvariantCulture);
        }

        return cells;
    }

    /// <summary>Lays a row's cells into the tree a record of its own would have given.</summary>
    private sealed class Tree(Origin start)
    {
        private readonly List<Entry> _top = [];
        private readonly Dictionary<string, List<Entry>> _levels = new(StringComparer.Ordinal)
        {
            [RecordKeys.Answers] = [],
            [RecordKeys.Help] = [],
            [RecordKeys.Observations] = [],
            [RecordKeys.History] = [],
            [RecordKeys.TaskSeconds] = [],
            [RecordKeys.Fingerprints] = [],
        };

        public void Add(string column, string cell, HashSet<string> answers, Origin origin)
        {
            var value = new TextNode(origin, cell, IsQuoted: true);
            if (answers.Contains(column))
            {
                Put(RecordKeys.Answers, column, value);
            }
            else if (string.IsNullOrWhiteSpace(cell))
            {
                return;
            }
            else if (column == RecordKeys.Seen)
            {
                var part = new MapNode(origin, [new Entry(RecordKeys.Seen, origin, value)]);
                _top.Add(new Entry(RecordKeys.Parts, origin, new ListNode(origin, [part])));
            }
            else if (LevelOf(column) is { } level)
            {
                Put(level, column[(level.Length + 1)..], value);
            }
            else if (column.Contains('.', StringComparison.Ordinal))
            {
                Put(RecordKeys.Answers, column, value);
            }
            else
            {
                _top.Add(new Entry(column, origin, value));
            }
        }

        /// <summary>Answers the questions that close tasks so that none is closed.</summary>
        public void NothingClosed(Protocol protocol)
        {
            foreach (var slot in protocol.Program.History.Where(h => h.IsNeeded))
            {
                var isOpenOnNo = slot.Question.Gates.All(g => g.OnYes);
                var value = new TextNode(start, isOpenOnNo ? RecordKeys.No : RecordKeys.Yes, IsQuoted: true);
                Put(RecordKeys.History, slot.Key, value);
            }
        }

        public MapNode Root() =>
            new(
                start,
                [
                    .. _top,
                    .. _levels
                        .Where(l => l.Value.Count > 0)
                        .Select(l => new Entry(l.Key, start, new MapNode(start, l.Value))),
                ]
            );

        private void Put(string level, string key, TextNode value) =>
            _levels[level].Add(new Entry(key, value.Origin, value));

        private static string? LevelOf(string column) =>
            column.StartsWith(HelpPrefix, StringComparison.Ordinal) ? RecordKeys.Help
            : column.StartsWith(ObservationsPrefix, StringComparison.Ordinal) ? RecordKeys.Observations
            : column.StartsWith(HistoryPrefix, StringComparison.Ordinal) ? RecordKeys.History
            : column.StartsWith(TaskSecondsPrefix, StringComparison.Ordinal) ? RecordKeys.TaskSeconds
            : column.StartsWith(FingerprintsPrefix, StringComparison.Ordinal) ? RecordKeys.Fingerprints
            : null;
    }
}
