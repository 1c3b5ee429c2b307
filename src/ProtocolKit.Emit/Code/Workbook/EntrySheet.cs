using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>The sheet in which answers are entered: a row a child, a column each answer, and what each column takes.</summary>
internal sealed class EntrySheet
{
    public const string Sheet = "Entry";

    private readonly Dictionary<string, int> _places;

    public EntrySheet(Protocol protocol, WorkbookLists lists)
    {
        Columns = [.. ResultColumns.OfRecords(protocol).Select(k => Column(k, protocol, lists))];
        _places = Columns.Select((c, i) => (c.Key, i)).ToDictionary(StringComparer.Ordinal);
    }

    public IReadOnlyList<EntryColumn> Columns { get; }

    /// <summary>The first child's row as a range.</summary>
    public string Row =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Sheet}!A{ScoringCells.FirstRow}:{CellNames.Column(Columns.Count - 1)}{ScoringCells.FirstRow}"
        );

    /// <summary>The cell of a column in the first child's row, as other sheets name it.</summary>
    public string Cell(string key) => $"{Sheet}!{Own(_places[key])}";

    private static string Own(int column) =>
        string.Create(CultureInfo.InvariantCulture, $"{CellNames.Column(column)}{ScoringCells.FirstRow}");

    private static EntryColumn Column(string key, Protocol protocol, WorkbookLists lists)
    {
        var program = protocol.Program;
        if (program.Answers.FirstOrDefault(a => a.Key == key) is { } answer)
        {
            return OfAnswer(answer, lists, ResultColumns.OfRecords(protocol).ToList().IndexOf(key));
        }

        if (program.Observations.Any(o => ResultColumns.Of(o) == key))
        {
            string[] words = [RecordKeys.Seen, RecordKeys.Looked];
            return new EntryColumn(
                key,
                "seen or looked; nothing where not looked for",
                lists.Range("observed", words),
                ""
            );
        }

        if (program.History.FirstOrDefault(h => ResultColumns.Of(h) == key) is { } question)
        {
            return OfQuestion(key, question, lists);
        }

        var age = program.Fields[program.AgeField];
        return key switch
        {
            RecordKeys.Case => new EntryColumn(key, "a code, never a name", "", ""),
            RecordKeys.AgeMonths => new EntryColumn(
                key,
                "completed months",
                "",
                FormattableString.Invariant(
                    $"AND(ISNUMBER({Own(1)}),{Own(1)}>={age.Low},{Own(1)}<={age.High},INT({Own(1)})={Own(1)})"
                )
            ),
            _ => new EntryColumn(
                key,
                protocol.HasShortForm ? "full or short" : "full",
                lists.Range(
                    "forms",
                    protocol.HasShortForm ? [RecordKeys.Full, RecordKeys.Short] : [RecordKeys.Full]
                ),
                ""
            ),
        };
    }

    private static EntryColumn OfQuestion(string key, HistorySlot question, WorkbookLists lists)
    {
        var note = question.IsNeeded
            ? "yes or no; it decides which tasks may be given"
            : "yes or no; nothing where it was not asked";
        return new EntryColumn(key, note, lists.Range("yes or no", [RecordKeys.Yes, RecordKeys.No]), "");
    }

    private static EntryColumn OfAnswer(AnswerSlot answer, WorkbookLists lists, int place)
    {
        var response = answer.Response;
        var codes = States.Untried.Select(u => (object)u.Code).ToList();
        var note = NumberReading.Expected(response) + ", or a code for untried";
        if (response.HasOptions)
        {
            return new EntryColumn(
                answer.Key,
                note,
                lists.Range(answer.Key, [.. response.Options.Select(o => (object)o.Name), .. codes]),
                ""
            );
        }

        if (response.Scale is { } scale)
        {
            var points = scale.Levels.Select(l => l.Points).Order().Select(p => (object)p);
            return new EntryColumn(answer.Key, note, lists.Range(scale.Name, [.. points, .. codes]), "");
        }

        var cell = Own(place);
        var step = response.Step;
        var untried = lists.Range("untried", codes);
        return new EntryColumn(
            answer.Key,
            note,
            "",
            $"IF(ISNUMBER({cell}),AND({cell}>=({response.Low.Numerator}/{response.Low.Denominator}),"
                + $"{cell}<=({response.High.Numerator}/{response.High.Denominator}),"
                + $"ROUND({cell}*{step.Denominator}/{step.Numerator},0)*{step.Numerator}/{step.Denominator}={cell}),"
                + $"COUNTIF({untried},{cell})>0)"
        );
    }
}

/// <param name="Note">What may be entered, in words.</param>
/// <param name="List">The cells with what may be chosen; empty where another rule holds.</param>
/// <param name="Rule">A formula for the first child's cell that is true of what may be entered; empty where there is none.</param>
internal sealed record EntryColumn(string Key, string Note, string List, string Rule);
