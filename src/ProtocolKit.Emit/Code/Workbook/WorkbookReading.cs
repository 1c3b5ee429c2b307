using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>
/// Columns that read a child's row of the entry sheet into the program's fields, and say what is wrong with it. The
/// rules are those of every target.
/// </summary>
internal sealed class WorkbookReading
{
    private readonly Protocol _protocol;
    private readonly ScoringCells _cells;
    private readonly WorkbookLists _lists;
    private readonly FurtherTrials _further;
    private readonly List<AnswerCells> _answers = [];
    private readonly List<string> _problems = [];
    private readonly string[] _fields;
    private readonly string _form;

    public WorkbookReading(Protocol protocol, EntrySheet entry, ScoringCells cells, WorkbookLists lists)
    {
        (_protocol, _cells, _lists) = (protocol, cells, lists);
        _further = new FurtherTrials(protocol.Program);
        _fields = new string[protocol.Program.Fields.Count];
        Empty = cells.Add("nothing entered", "", $"COUNTA({entry.Row})=0");
        ReadAge(entry.Cell(RecordKeys.AgeMonths));
        _form = ReadForm(entry.Cell(RecordKeys.Form));
        foreach (var question in protocol.Program.History)
        {
            ReadHistory(question, entry.Cell(ResultColumns.Of(question)));
        }

        foreach (var observation in protocol.Program.Observations)
        {
            ReadObservation(observation, entry.Cell(ResultColumns.Of(observation)));
        }

        foreach (var answer in protocol.Program.Answers)
        {
            ReadAnswer(answer, entry.Cell(answer.Key));
        }

        for (var i = 0; i < _fields.Length; i++)
        {
            _fields[i] ??= cells.Add(protocol.Program.Fields[i].Name, "", "0");
        }
    }

    /// <summary>The cell of each field, by its index.</summary>
    public IReadOnlyList<string> Fields => _fields;

    /// <summary>The cell that is true where nothing is entered.</summary>
    public string Empty { get; }

    /// <summary>Cells that say what is wrong beside the answers, each empty where nothing is.</summary>
    public IReadOnlyList<string> Problems => _problems;

    /// <summary>In the order of the program.</summary>
    public IReadOnlyList<AnswerCells> Answers => _answers;

    private void ReadAge(string entry)
    {
        var index = _protocol.Program.AgeField;
        var field = _protocol.Program.Fields[index];
        var fits = Invariant(
            $"IF(ISNUMBER({entry}),AND({entry}>={field.Low},{entry}<={field.High},INT({entry})={entry}),FALSE)"
        );
        _fields[index] = _cells.Add(field.Name, Limits(field), $"IF({fits},{entry},0)");
        var problem = _lists.Word(
            Invariant(
                $"{RecordKeys.AgeMonths}: give the age in completed months, a whole number from {field.Low} to {field.High}. "
            )
        );
        Complain($"IF({fits},\"\",{problem})");
    }

    private string ReadForm(string entry)
    {
        var index = _protocol.Program.FormField;
        var field = _protocol.Program.Fields[index];
        var isShort = Is(entry, RecordKeys.Short);
        var cell = _cells.Add(field.Name, Limits(field), $"IF({isShort},1,0)");
        _fields[index] = cell;
        var right = _protocol.HasShortForm
            ? $"OR({Is(entry, RecordKeys.Full)},{isShort})"
            : Is(entry, RecordKeys.Full);
        var problem = _protocol.HasShortForm
            ? "form: say \"full\" or \"short\". "
            : "form: this protocol has only one form; say \"full\". ";
        Complain($"IF({right},\"\",{_lists.Word(problem)})");
        return cell;
    }

    private void ReadAnswer(AnswerSlot answer, string entry)
    {
        entry = GivenTasks.IsHelpGiven(answer) ? HelpOrNone(answer, entry) : entry;
        var field = _protocol.Program.Fields[answer.ValueField];
        var codes = States.Untried.Select(u => Invariant($"{Is(entry, u.Code)}*{(int)u.State}"));
        var code = _cells.Add(
            answer.Key + " code",
            "an untried code, or 0",
            $"IF(ISTEXT({entry}),{string.Join('+', codes)},0)"
        );
        var steps = _cells.Add(answer.Key + " read", "", Steps(answer, field, entry));
        var off = OffForm(answer);
        var misplaced = off.Length == 0 ? "" : $"IF(AND({off},{code}<>2),2,";
        var given = _cells.Add(
            answer.Key + " given",
            "0 not given, 1 right, 2 wrong",
            Invariant(
                $"IF(TRIM({entry})=\"\",0,{misplaced}IF(OR({code}>0,{steps}>={field.Low}),1,2){(off.Length == 0 ? "" : ")")})"
            )
        );
        var onForm = off.Length == 0 ? $"{given}=1" : $"AND({given}=1,NOT({off}))";
        var isPlain = _further.Of(answer).After < 0;
        var stateField = _protocol.Program.Fields[answer.StateField];
        var state = _cells.Add(
            isPlain ? stateField.Name : stateField.Name + " as entered",
            Limits(stateField),
            $"IF({onForm},{code},1)"
        );
        var value = _cells.Add(
            isPlain ? field.Name : field.Name + " as entered",
            Limits(field),
            Invariant($"IF(AND({given}=1,{code}=0),{steps},{field.Low})")
        );
        var need = isPlain ? "" : AddNeed(answer);
        _answers.Add(new AnswerCells(answer, given, state, value, need, off));
        var dropped = $"AND({given}=1,{need}=2)";
        _fields[answer.StateField] = isPlain
            ? state
            : _cells.Add(stateField.Name, Limits(stateField), $"IF({dropped},1,{state})");
        _fields[answer.ValueField] = isPlain
            ? value
            : _cells.Add(field.Name, Limits(field), Invariant($"IF({dropped},{field.Low},{value})"));
    }

    /// <summary>Which help was given; no word about it is none.</summary>
    private string HelpOrNone(AnswerSlot answer, string entry)
    {
        var off = OffForm(answer);
        var blank = $"TRIM({entry})=\"\"";
        return _cells.Add(
            answer.Key + " or none",
            "",
            $"IF({(off.Length == 0 ? blank : $"AND({blank},NOT({off}))")},{_lists.Word(HelpLadder.None)},{entry}&\"\")"
        );
    }

    /// <summary>Whole steps, or the index of a level or option; below the field's bounds for anything else.</summary>
    private string Steps(AnswerSlot answer, ProgramField field, string entry)
    {
        var response = answer.Response;
        var none = field.Low - 1;
        if (response.HasOptions)
        {
            var options = response.Options.Select((o, i) => Invariant($"{Is(entry, o.Name)}*{i + 1}"));
            return $"IF(ISTEXT({entry}),{string.Join('+', options)}-1,-1)";
        }

        if (response.Scale is { } scale)
        {
            var levels = scale
                .Levels.Select(l => l.Points)
                .Order()
                .Select((l, i) => Invariant($"({entry}={Ratio(l)})*{i + 1}"));
            return $"IF(ISNUMBER({entry}),{string.Join('+', levels)}-1,-1)";
        }

        var (above, below) = (Digits(response.Step.Numerator), Digits(response.Step.Denominator));
        var count = $"ROUND({entry}*{below}/{above},0)";
        var fits =
            $"AND({entry}>={Ratio(response.Low)},{entry}<={Ratio(response.High)},{count}*{above}/{below}={entry})";
        return Invariant($"IF(ISNUMBER({entry}),IF({fits},{count},{none}),{none})");
    }

    /// <summary>How it stands with a further trial, from the one before.</summary>
    private string AddNeed(AnswerSlot answer)
    {
        var (after, below) = _further.Of(answer);
        var before = _answers[after];
        var open = new List<string>();
        if (before.Need.Length > 0)
        {
            open.Add($"{before.Need}=1");
        }

        if (before.Off.Length > 0)
        {
            open.Add(before.Off);
        }

        var absent = open.Count == 0 ? "3" : $"IF(AND({before.Given}=0,OR({string.Join(',', open)})),1,3)";
        var need = Invariant(
            $"IF({before.Given}=1,IF({before.State}>=2,1,IF({before.Value}<{below},0,2)),{absent})"
        );
        return _cells.Add(
            answer.Key + " need",
            "0 due, 1 may be given, 2 needless, 3 unclear",
            before.Need.Length == 0 ? need : $"IF({before.Need}=2,2,{need})"
        );
    }

    private void ReadHistory(HistorySlot question, string entry)
    {
        var field = _protocol.Program.Fields[question.Field];
        _fields[question.Field] = _cells.Add(
            field.Name,
            Limits(field),
            $"IF({Is(entry, RecordKeys.Yes)},1,0)"
        );
        var blank = question.IsNeeded ? "" : $"TRIM({entry})=\"\",";
        var problem = _lists.Word(ResultColumns.WrongHistory(question) + " ");
        Complain($"IF(OR({blank}{Is(entry, RecordKeys.Yes)},{Is(entry, RecordKeys.No)}),\"\",{problem})");
    }

    private void ReadObservation(ObservationSlot observation, string entry)
    {
        var field = _protocol.Program.Fields[observation.Field];
        _fields[observation.Field] = _cells.Add(
            field.Name,
            Limits(field),
            $"IF({Is(entry, RecordKeys.Seen)},2,IF({Is(entry, RecordKeys.Looked)},1,0))"
        );
        var problem = _lists.Word($"{observation.Key}: this is neither \"seen\" nor \"looked\". ");
        Complain(
            $"IF(OR(TRIM({entry})=\"\",{Is(entry, RecordKeys.Seen)},{Is(entry, RecordKeys.Looked)}),\"\",{problem})"
        );
    }

    private void Complain(string problem) =>
        _problems.Add(
            _cells.Add(Invariant($"error {_problems.Count + 1}"), "what is wrong, if anything", problem)
        );

    private string Is(string entry, string word) => $"EXACT(TRIM({entry}),{_lists.Word(word)})";

    private string OffForm(AnswerSlot answer) =>
        _protocol.HasShortForm && !answer.Task.ShortForm ? $"{_form}=1" : "";

    /// <summary>A number a spreadsheet works out as it reads one that is typed: the nearest double.</summary>
    private static string Ratio(Rational value) => $"({Digits(value.Numerator)}/{Digits(value.Denominator)})";

    private static string Limits(ProgramField field) =>
        Invariant($"{field.Low}..{field.High}") + (field.Note.Trim().Length == 0 ? "" : ": " + field.Note);

    private static string Digits(BigInteger value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}

/// <summary>How an answer stands as it is entered, before it is known whether it was due.</summary>
/// <param name="Need">Empty where it is due whatever other answers say.</param>
/// <param name="Off">The condition that it isn't part of the record's form; empty where it always is.</param>
internal sealed record AnswerCells(
    AnswerSlot Slot,
    string Given,
    string State,
    string Value,
    string Need,
    string Off
);
