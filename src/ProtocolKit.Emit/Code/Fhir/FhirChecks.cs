using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>Variables that say what is missing or wrong. Nothing is shown as a result while one of them speaks.</summary>
internal sealed class FhirChecks
{
    /// <summary>So many are put together at once, so that no expression grows long.</summary>
    private const int InOneText = 32;

    private readonly FhirPlaces _places;
    private readonly List<string> _checks = [];

    public FhirChecks(
        Protocol protocol,
        FhirPlaces places,
        FhirQuestions questions,
        FhirReading reading,
        IReadOnlyList<string> lines
    )
    {
        _places = places;
        var age = protocol.Program.Fields[protocol.Program.AgeField];
        var months = reading.Fields[protocol.Program.AgeField];
        Say(
            RecordKeys.AgeMonths,
            FormattableString.Invariant($"{months} < {age.Low} or {months} > {age.High}"),
            FormattableString.Invariant(
                $"{RecordKeys.AgeMonths}: give the age in completed months, a whole number from {age.Low} to {age.High}."
            )
        );
        if (protocol.HasShortForm)
        {
            Say(
                RecordKeys.Form,
                questions.Paths[RecordKeys.Form] + ".empty()",
                "form: say \"full\" or \"short\"."
            );
        }

        foreach (var slot in protocol.Program.History.Where(h => h.IsNeeded))
        {
            var key = ResultColumns.Of(slot);
            Say(key, questions.Paths[key] + ".empty()", ResultColumns.WrongHistory(slot));
        }

        var given = new GivenTasks(protocol.Program);
        foreach (var answer in reading.Answers.Where(a => !GivenTasks.IsHelpGiven(a.Slot)))
        {
            var line = given.LineOf(answer.Slot);
            Say(answer.Slot.Key, Missing(answer, line < 0 ? "" : lines[line]), NoAnswer(answer.Slot));
        }

        foreach (var answer in reading.Answers.Where(a => MayBeWrong(a.Slot.Response)))
        {
            Say(
                answer.Slot.Key + ".value",
                Wrong(answer, questions.Paths[answer.Slot.Key]),
                $"{answer.Slot.Key}: this is not {NumberReading.Expected(answer.Slot.Response)}."
            );
        }
    }

    /// <summary>How all of what they say is read; nothing once a record is complete.</summary>
    public string Said => field ??= Joined([.. _checks.Chunk(InOneText).Select(Joined)]);

    private static string Missing(FhirAnswer answer, string given)
    {
        var parts = new List<string> { $"{answer.State} = 1" };
        if (answer.Need.Length > 0)
        {
            parts.Add($"{answer.Need} = 0");
        }

        if (answer.Off.Length > 0)
        {
            parts.Add($"({answer.Off}).not()");
        }

        if (given.Length > 0)
        {
            parts.Add(given);
        }

        return string.Join(" and ", parts);
    }

    private static bool MayBeWrong(Response response) => response.IsNumber;

    /// <summary>Beyond its bounds, or beside its step.</summary>
    private static string Wrong(FhirAnswer answer, string path)
    {
        var response = answer.Slot.Response;
        var (above, below) = (response.Step.Numerator, response.Step.Denominator);
        return FormattableString.Invariant(
            $"{path}.select({below} * $this < {below * response.Low.Numerator / response.Low.Denominator} or {below} * $this > {below * response.High.Numerator / response.High.Denominator} or {below} * $this != {above} * {answer.Value}).aggregate($this, false)"
        );
    }

    private static string NoAnswer(AnswerSlot answer) =>
        $"{answer.Key}: there is no answer. Give one, or say why not: {string.Join(", ", States.Untried.Select(u => u.Code))}.";

    private void Say(string key, string isWrong, string text) =>
        _checks.Add(
            _places.Variables.Add(
                key + ".problem",
                "what is wrong, if anything",
                $"iif({isWrong}, {FhirText.Quote(FhirText.Of(text))}, {{}})"
            )
        );

    private string Joined(IReadOnlyList<string> parts) =>
        _places.Variables.Add(
            "problems",
            "all that is missing or wrong, if anything",
            parts[0]
                + string.Concat(parts.Skip(1).Select(p => $".combine({p})"))
                + ".aggregate(iif($total = '', $this, $total & ' ' & $this), '').select(iif($this = '', {}, $this))"
        );
}
