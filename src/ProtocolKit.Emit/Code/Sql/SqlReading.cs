using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// Columns that read a row of texts into the program's fields, and say what is wrong with it. The rules are those of
/// every target: an answer is a number on its step, a name or a code; a blank stands only where nothing is due.
/// </summary>
internal sealed class SqlReading
{
    private const string AgeColumn = RecordKeys.AgeMonths;

    private readonly SqlDialect _dialect;
    private readonly Protocol _protocol;
    private readonly SqlNames _names;
    private readonly FurtherTrials _further;
    private readonly List<SqlColumn> _columns = [];
    private readonly List<string> _errors = [];
    private readonly List<SqlAnswer> _answers = [];
    private readonly bool _hasForms;

    /// <param name="fields">The name of each field's column, by its index.</param>
    public SqlReading(Protocol protocol, SqlDialect dialect, SqlNames names, IReadOnlyList<string> fields)
    {
        (_protocol, _dialect, _names, Fields) = (protocol, dialect, names, fields);
        _further = new FurtherTrials(protocol.Program);
        _hasForms = protocol.HasShortForm;
        ReadAll();
    }

    /// <summary>The name of each field's column, by its index.</summary>
    public IReadOnlyList<string> Fields { get; }

    public IReadOnlyList<SqlColumn> Columns => _columns;

    /// <summary>The column with the record's code.</summary>
    public string Case { get; private set; } = "";

    /// <summary>Columns that say what is wrong beside the answers, each empty where nothing is.</summary>
    public IReadOnlyList<string> Errors => _errors;

    /// <summary>In the order of the program.</summary>
    public IReadOnlyList<SqlAnswer> Answers => _answers;

    private void ReadAll()
    {
        Case = Add(
            "case",
            $"{_dialect.Clean(_dialect.Column(RecordKeys.Case))}",
            "as it stands in the table"
        );
        ReadAge();
        ReadForm();
        foreach (var question in _protocol.Program.History)
        {
            ReadHistory(question);
        }

        foreach (var observation in _protocol.Program.Observations)
        {
            ReadObservation(observation);
        }

        foreach (var answer in _protocol.Program.Answers)
        {
            ReadAnswer(answer);
        }

        var found = _columns.Select(c => c.Name).ToHashSet(StringComparer.Ordinal);
        foreach (var field in Fields.Where(f => !found.Contains(f)))
        {
            AddNamed(field, _dialect.Wide("0"), "", []);
        }
    }

    private void ReadAge()
    {
        var field = _protocol.Program.Fields[_protocol.Program.AgeField];
        var text = AddText(AgeColumn);
        var t = _dialect.Column(text);
        var months = Add(
            "age in months",
            $"case when {_dialect.Matches(t, "^[0-9]{1,4}([.]0+)?$")} then "
                + $"{_dialect.ToWhole(_dialect.Extract(t, "^([0-9]{1,4})"))} else {_dialect.Wide("-1")} end",
            "",
            text
        );
        var m = _dialect.Column(months);
        var fits = Invariant($"{m} between {field.Low} and {field.High}");
        AddNamed(
            Fields[_protocol.Program.AgeField],
            $"case when {fits} then {m} else {_dialect.Wide("0")} end",
            Limits(field),
            [months]
        );
        AddError(
            $"case when {fits} then '' else "
                + _dialect.Text(
                    Invariant(
                        $"{AgeColumn}: give the age in completed months, a whole number from {field.Low} to {field.High}. "
                    )
                )
                + " end",
            months
        );
    }

    private void ReadForm()
    {
        var field = _protocol.Program.FormField;
        var text = AddText(RecordKeys.Form);
        var t = _dialect.Column(text);
        AddNamed(
            Fields[field],
            $"case when {t} = '{RecordKeys.Short}' then {_dialect.Wide("1")} else {_dialect.Wide("0")} end",
            Limits(_protocol.Program.Fields[field]),
            [text]
        );
        var right = _hasForms ? $"'{RecordKeys.Full}', '{RecordKeys.Short}'" : $"'{RecordKeys.Full}'";
        var problem = _hasForms
            ? "form: say \"full\" or \"short\". "
            : "form: this protocol has only one form; say \"full\". ";
        AddError($"case when {t} in ({right}) then '' else {_dialect.Text(problem)} end", text);
    }

    private void ReadAnswer(AnswerSlot answer)
    {
        var field = _protocol.Program.Fields[answer.ValueField];
        var text = GivenTasks.IsHelpGiven(answer) ? AddHelp(answer) : AddText(answer.Key);
        var code = Add(
            answer.Key + " code",
            Lookup(_dialect.Column(text), States.Untried.Select(u => (u.Code, (long)u.State)), 0),
            "an untried code, or 0",
            text
        );
        var steps = AddSteps(answer, field, text);
        var off = OffForm(answer);
        var given = AddGiven(answer, field, text, code, steps, off);
        var state =
            off.Length == 0
                ? $"case when {Is(given, 1)} then {_dialect.Column(code)} else {_dialect.Wide("1")} end"
                : $"case when {Is(given, 1)} and not {off} then {_dialect.Column(code)} else {_dialect.Wide("1")} end";
        var value = Invariant(
            $"case when {Is(given, 1)} and {Is(code, 0)} then {_dialect.Column(steps)} else {_dialect.Wide(Digits(field.Low))} end"
        );
        var isPlain = _further.Of(answer).After < 0;
        var stateName = isPlain ? Fields[answer.StateField] : _names.Of(answer.Key + " state as read");
        var valueName = isPlain ? Fields[answer.ValueField] : _names.Of(answer.Key + " as read");
        AddNamed(
            stateName,
            state,
            Limits(_protocol.Program.Fields[answer.StateField]),
            [given, code, .. FormIf(off)]
        );
        AddNamed(valueName, value, Limits(field), [given, code, steps]);
        var need = isPlain ? "" : AddNeed(answer);
        var read = new SqlAnswer(answer, text, given, stateName, valueName, need, off, FormIf(off));
        _answers.Add(read);
        if (!isPlain)
        {
            AddSettled(field, read);
        }
    }

    private string AddGiven(
        AnswerSlot answer,
        ProgramField field,
        string text,
        string code,
        string steps,
        string off
    )
    {
        var wrongPlace = off.Length == 0 ? "" : $"when {off} and {_dialect.Column(code)} <> 2 then 2 ";
        return Add(
            answer.Key + " given",
            Invariant(
                $"case when {_dialect.Column(text)} = '' then 0 {wrongPlace}when {_dialect.Column(code)} > 0 or {_dialect.Column(steps)} >= {field.Low} then 1 else 2 end"
            ),
            "0 not given, 1 right, 2 wrong",
            [text, code, steps, .. FormIf(off)]
        );
    }

    /// <summary>Whole steps, or the index of a level or option; below the field's bounds for anything else.</summary>
    private string AddSteps(AnswerSlot answer, ProgramField field, string text)
    {
        var response = answer.Response;
        var none = field.Low - 1;
        if (response.HasOptions)
        {
            return Add(
                answer.Key + " option",
                Lookup(_dialect.Column(text), response.Options.Select((o, i) => (o.Name, (long)i)), none),
                "",
                text
            );
        }

        var reading = NumberReading.Of(response);
        var scaled = AddScaled(answer, reading, text);
        var s = _dialect.Column(scaled);
        if (reading.Levels.Count > 0)
        {
            var whens = reading.Levels.Select(
                (l, i) => Invariant($"when {s} = {l} then {_dialect.Wide(Digits(i))}")
            );
            return Add(
                answer.Key + " level",
                $"case {string.Join(' ', whens)} else {_dialect.Wide(Digits(none))} end",
                "",
                scaled
            );
        }

        var quotient = reading.Step == 1 ? s : _dialect.Quotient(s, Digits(reading.Step));
        return Add(
            answer.Key + " steps",
            Invariant(
                $"case when {s} between {reading.Low} and {reading.High} and {s} % {reading.Step} = 0 then {quotient} else {_dialect.Wide(Digits(none))} end"
            ),
            "",
            scaled
        );
    }

    /// <summary>A number without its point: 3.4 is 34 where one digit may stand behind the point.</summary>
    private string AddScaled(AnswerSlot answer, NumberReading reading, string text)
    {
        var t = _dialect.Column(text);
        var whole = _dialect.Extract(t, "^(-?[0-9]+)");
        var digits = whole;
        if (reading.Decimals > 0)
        {
            var zeros = new string('0', reading.Decimals);
            digits = Invariant(
                $"concat({whole}, substring(concat({_dialect.Extract(t, "[.]([0-9]*)")}, '{zeros}'), 1, {reading.Decimals}))"
            );
        }

        return Add(
            answer.Key + " number",
            $"case when {_dialect.Matches(t, reading.Pattern)} then {_dialect.ToWhole(digits)} else {_dialect.Wide(Digits(reading.Low - 1))} end",
            "",
            text
        );
    }

    /// <summary>How it stands with a further trial, from the one before.</summary>
    private string AddNeed(AnswerSlot answer)
    {
        var (after, below) = _further.Of(answer);
        var before = _answers[after];
        var off = before.Off;
        var open = new List<string>();
        if (before.Need.Length > 0)
        {
            open.Add(Is(before.Need, 1));
        }

        if (off.Length > 0)
        {
            open.Add(off);
        }

        var needless = before.Need.Length > 0 ? $"when {Is(before.Need, 2)} then 2 " : "";
        var absent =
            open.Count > 0 ? $"when {Is(before.Given, 0)} and ({string.Join(" or ", open)}) then 1 " : "";
        string[] needs = before.Need.Length > 0 ? [before.Need] : [];
        return Add(
            answer.Key + " need",
            Invariant(
                $"case {needless}when {Is(before.Given, 1)} and {_dialect.Column(before.State)} >= 2 then 1 when {Is(before.Given, 1)} and {_dialect.Column(before.Value)} < {below} then 0 when {Is(before.Given, 1)} then 2 {absent}else 3 end"
            ),
            "0 due, 1 may be given, 2 needless, 3 unclear",
            [before.Given, before.State, before.Value, .. needs, .. before.OffNeeds]
        );
    }

    private void AddSettled(ProgramField field, SqlAnswer read)
    {
        var answer = read.Slot;
        var dropped = $"{Is(read.Given, 1)} and {Is(read.Need, 2)}";
        AddNamed(
            Fields[answer.StateField],
            $"case when {dropped} then {_dialect.Wide("1")} else {_dialect.Column(read.State)} end",
            Limits(_protocol.Program.Fields[answer.StateField]),
            [read.Given, read.Need, read.State]
        );
        AddNamed(
            Fields[answer.ValueField],
            $"case when {dropped} then {_dialect.Wide(Digits(field.Low))} else {_dialect.Column(read.Value)} end",
            Limits(field),
            [read.Given, read.Need, read.Value]
        );
    }

    private void ReadHistory(HistorySlot question)
    {
        var text = AddText(ResultColumns.Of(question));
        var t = _dialect.Column(text);
        AddNamed(
            Fields[question.Field],
            Lookup(t, [(RecordKeys.Yes, 1)], 0),
            Limits(_protocol.Program.Fields[question.Field]),
            [text]
        );
        var blank = question.IsNeeded ? "" : "'', ";
        var wrong = _dialect.Text(ResultColumns.WrongHistory(question) + " ");
        AddError(
            $"case when {t} in ({blank}'{RecordKeys.Yes}', '{RecordKeys.No}') then '' else {wrong} end",
            text
        );
    }

    private void ReadObservation(ObservationSlot observation)
    {
        var text = AddText(ResultColumns.Of(observation));
        AddNamed(
            Fields[observation.Field],
            Lookup(_dialect.Column(text), [(RecordKeys.Seen, 2), (RecordKeys.Looked, 1)], 0),
            Limits(_protocol.Program.Fields[observation.Field]),
            [text]
        );
        var wrong = SqlDialect.Concat([
            _dialect.Text(observation.Key + ": \""),
            $"substring({_dialect.Column(text)}, 1, 60)",
            _dialect.Text("\" is neither \"seen\" nor \"looked\". "),
        ]);
        AddError(
            $"case when {_dialect.Column(text)} in ('', '{RecordKeys.Seen}', '{RecordKeys.Looked}') then '' else {wrong} end",
            text
        );
    }

    private string Lookup(string text, IEnumerable<(string Word, long Number)> words, long otherwise) =>
        $"case {text} {string.Join(' ', words.Select(w => $"when {_dialect.Text(w.Word)} then {_dialect.Wide(Digits(w.Number))}"))} else {_dialect.Wide(Digits(otherwise))} end";

    private string OffForm(AnswerSlot answer) =>
        _hasForms && !answer.Task.ShortForm
            ? $"{_dialect.Column(Fields[_protocol.Program.FormField])} = 1"
            : "";

    private IReadOnlyList<string> FormIf(string off) =>
        off.Length > 0 ? [Fields[_protocol.Program.FormField]] : [];

    private string Is(string column, int number) => Invariant($"{_dialect.Column(column)} = {number}");

    private string AddText(string key) =>
        Add(key + " text", _dialect.Clean(_dialect.Column(key)), "as it stands in the table");

    /// <summary>Which help was given; no word about it is none.</summary>
    private string AddHelp(AnswerSlot answer)
    {
        var text = AddText(answer.Key);
        var t = _dialect.Column(text);
        var off = OffForm(answer);
        var blank = off.Length == 0 ? $"{t} = ''" : $"{t} = '' and not {off}";
        return Add(
            answer.Key + " or none",
            $"case when {blank} then {_dialect.Text(HelpLadder.None)} else {t} end",
            "",
            [text, .. FormIf(off)]
        );
    }

    private void AddError(string code, params string[] needs) =>
        _errors.Add(Add(Invariant($"error {_errors.Count + 1}"), code, "", needs));

    private string Add(string wanted, string code, string comment, params string[] needs)
    {
        var name = _names.Of(wanted);
        AddNamed(name, code, comment, needs);
        return name;
    }

    private void AddNamed(string name, string code, string comment, IReadOnlyCollection<string> needs) =>
        _columns.Add(new SqlColumn(name, CodeLayout.Word(code), comment, [.. needs.Distinct()]));

    private static string Limits(ProgramField field) =>
        Invariant($"{field.Low}..{field.High}") + (field.Note.Trim().Length == 0 ? "" : ": " + field.Note);

    private static string Digits(BigInteger value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
