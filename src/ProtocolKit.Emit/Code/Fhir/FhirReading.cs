using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// Variables that read the answers into the program's fields. An absent answer is given a value by <c>aggregate</c>, so
/// that no line ever works on nothing. The rules are those of every target.
/// </summary>
internal sealed class FhirReading
{
    private readonly Protocol _protocol;
    private readonly FhirPlaces _places;
    private readonly FhirQuestions _questions;
    private readonly FurtherTrials _further;
    private readonly string[] _fields;
    private readonly List<FhirAnswer> _answers = [];

    public FhirReading(Protocol protocol, FhirPlaces places, FhirQuestions questions)
    {
        (_protocol, _places, _questions) = (protocol, places, questions);
        var program = protocol.Program;
        _further = new FurtherTrials(program);
        _fields = new string[program.Fields.Count];
        Hide(program.AgeField, Path(RecordKeys.AgeMonths) + ".aggregate($this, 0)");
        Hide(
            program.FormField,
            protocol.HasShortForm
                ? $"{Path(RecordKeys.Form)}.code.select(iif($this = '{RecordKeys.Short}', 1, 0)).aggregate($this, 0)"
                : "0"
        );
        foreach (var slot in program.History)
        {
            Hide(slot.Field, Path(ResultColumns.Of(slot)) + ".select(iif($this, 1, 0)).aggregate($this, 0)");
        }

        foreach (var slot in program.Observations)
        {
            Hide(
                slot.Field,
                $"{Path(ResultColumns.Of(slot))}.code.select(iif($this = '{RecordKeys.Seen}', 2, 1)).aggregate($this, 0)"
            );
        }

        foreach (var answer in program.Answers)
        {
            Read(answer);
        }

        for (var i = 0; i < _fields.Length; i++)
        {
            if (_fields[i] is null)
            {
                Hide(i, "0");
            }
        }
    }

    /// <summary>How each field is read, by its index.</summary>
    public IReadOnlyList<string> Fields => _fields;

    /// <summary>In the order of the program.</summary>
    public IReadOnlyList<FhirAnswer> Answers => _answers;

    private string Path(string key) => _questions.Paths[key];

    private void Read(AnswerSlot answer)
    {
        var low = FhirText.Whole(_protocol.Program.Fields[answer.ValueField].Low);
        var isNone = GivenTasks.IsHelpGiven(answer);
        var off = OffForm(answer);
        var absent = isNone ? Off(off, "1", "0") : "1";
        var none = isNone ? Off(off, low, FhirText.Whole(NoneOf(answer))) : low;
        var value = answer.Response.IsNumber
            ? $"{Path(answer.Key)}.select({Steps(answer.Response)}).aggregate($this, {low})"
            : $"{Path(answer.Key)}.code.select({Indexes(answer.Response, low)}).aggregate($this, {none})";
        var state = answer.Response.IsNumber
            ? $"iif({Path(answer.Key)}.exists(), 0, {Path(FhirQuestions.Untried(answer.Key))}.code.select({Codes()}).aggregate($this, 1))"
            : $"{Path(answer.Key)}.code.select({Codes()}).aggregate($this, {absent})";
        if (_further.Of(answer).After < 0)
        {
            Hide(answer.StateField, state);
            Hide(answer.ValueField, value);
            _answers.Add(
                new FhirAnswer(answer, _fields[answer.StateField], _fields[answer.ValueField], "", off)
            );
            return;
        }

        ReadFurther(answer, state, value, low, off);
    }

    /// <summary>An answer that was not needed counts as not given.</summary>
    private void ReadFurther(AnswerSlot answer, string state, string value, string low, string off)
    {
        var entered = Extra(answer, "state as entered", state);
        var read = Extra(answer, "as entered", value);
        var need = Extra(answer, "need", Need(answer));
        _answers.Add(new FhirAnswer(answer, entered, read, need, off));
        Hide(answer.StateField, $"iif({need} = 2, 1, {entered})");
        Hide(answer.ValueField, $"iif({need} = 2, {low}, {read})");
    }

    /// <summary>How it stands with a further trial, from the one before: 0 due, 1 may be given, 2 needless, 3 unclear.</summary>
    private string Need(AnswerSlot answer)
    {
        var (after, below) = _further.Of(answer);
        var before = _answers[after];
        var open = new List<string>();
        if (before.Need.Length > 0)
        {
            open.Add($"{before.Need} = 1");
        }

        if (before.Off.Length > 0)
        {
            open.Add(before.Off);
        }

        var absent = open.Count == 0 ? "3" : $"iif({string.Join(" or ", open)}, 1, 3)";
        var need = FormattableString.Invariant(
            $"iif({before.State} = 1, {absent}, iif({before.State} > 1, 1, iif({before.Value} < {below}, 0, 2)))"
        );
        return before.Need.Length == 0 ? need : $"iif({before.Need} = 2, 2, {need})";
    }

    /// <summary>Whole steps, rounded so that a double a little beside its decimal is read as that decimal.</summary>
    private static string Steps(Response response)
    {
        var (above, below) = (response.Step.Numerator, response.Step.Denominator);
        if (above == 1 && below == 1)
        {
            return "$this";
        }

        // Shifted above zero, as the quotient is cut and not floored.
        var lift = response.Low.Sign < 0 ? -(response.Low / response.Step).Numerator : 0;
        var steps = FormattableString.Invariant(
            $"(2 * {below} * $this + {above * (1 + (2 * lift))}) div {2 * above}"
        );
        return lift == 0 ? steps : FormattableString.Invariant($"({steps}) - {lift}");
    }

    private static string Indexes(Response response, string otherwise)
    {
        var names = response.Scale is { } scale
            ? scale.Levels.Select(l => l.Points).Order().Select(p => p.ToString())
            : response.Options.Select(o => o.Name);
        return Chosen(names.Select((n, i) => (n, (long)i)), otherwise);
    }

    private static string Codes() => Chosen(States.Untried.Select(u => (u.Code, (long)u.State)), "0");

    private static string Chosen(IEnumerable<(string Word, long Number)> words, string otherwise) =>
        words
            .Reverse()
            .Aggregate(
                otherwise,
                (rest, w) =>
                    FormattableString.Invariant(
                        $"iif($this = {FhirText.Quote(FhirText.Code(w.Word))}, {w.Number}, {rest})"
                    )
            );

    private static long NoneOf(AnswerSlot answer) =>
        answer.Response.Options.Select(o => o.Name).ToList().IndexOf(HelpLadder.None);

    private string OffForm(AnswerSlot answer) =>
        _protocol.HasShortForm && !answer.Task.ShortForm ? $"{_fields[_protocol.Program.FormField]} = 1" : "";

    private static string Off(string off, string then, string otherwise) =>
        off.Length == 0 ? otherwise : $"iif({off}, {then}, {otherwise})";

    private string Extra(AnswerSlot answer, string what, string expression) =>
        _places.Variables.Add($"{answer.Key}.{what}", "as it is entered", expression);

    private void Hide(int index, string expression)
    {
        var field = _protocol.Program.Fields[index];
        var limits = FormattableString.Invariant($"{field.Low}..{field.High}");
        var about = field.Note.Trim().Length == 0 ? limits : $"{limits}: {field.Note}";
        _fields[index] = _places.Variables.Add(field.Name, about, expression);
    }
}

/// <summary>How an answer stands as it is entered, before it is known whether it was due.</summary>
/// <param name="State">How its state is read; 1 where there is no answer.</param>
/// <param name="Need">Empty where it is due whatever other answers say.</param>
/// <param name="Off">The condition that it isn't part of the record's form; empty where it always is.</param>
internal sealed record FhirAnswer(AnswerSlot Slot, string State, string Value, string Need, string Off);
