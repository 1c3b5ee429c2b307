using System.Text.Json.Nodes;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>The questions a person answers: age, form, case history, and a group for each task.</summary>
internal sealed class FhirQuestions
{
    public const string RecordGroup = "record";
    public const string HistoryGroup = "history";

    private readonly Protocol _protocol;
    private readonly FhirPlaces _places;
    private readonly Dictionary<string, JsonObject> _items = new(StringComparer.Ordinal);

    public FhirQuestions(Protocol protocol, FhirPlaces places)
    {
        (_protocol, _places) = (protocol, places);
        AddRecord();
        AddHistory();
        foreach (var task in protocol.Tasks)
        {
            AddTask(task);
        }
    }

    /// <summary>The FHIRPath of each question's answer, by its key in a table of records.</summary>
    public Dictionary<string, string> Paths { get; } = new(StringComparer.Ordinal);

    /// <summary>The item of a question, by its key.</summary>
    public JsonObject Item(string key) => _items[key];

    /// <summary>The key of the question why a number is missing.</summary>
    public static string Untried(string key) => key + ".untried";

    private string System(string kind) => $"{FhirItems.Systems}{_protocol.Name}:{kind}";

    private void AddRecord()
    {
        var group = _places.Group(RecordGroup, "The sitting");
        var age = _protocol.Program.Fields[_protocol.Program.AgeField];
        var item = FhirItems
            .Item(RecordKeys.AgeMonths, "Age in completed months", "integer")
            .Between(age.Low, age.High, "Integer")
            .With(
                FhirItems.Extension(
                    FhirItems.Core + "questionnaire-unit",
                    "Coding",
                    FhirItems.Coding(FhirItems.Units, "mo", "months")
                )
            );
        item["required"] = true;
        Add(group, RecordKeys.AgeMonths, item);
        if (_protocol.HasShortForm)
        {
            var form = FhirItems.Item(RecordKeys.Form, "Form", "choice");
            form["required"] = true;
            form["answerOption"] = new JsonArray(
                FhirItems.Option(System("form"), RecordKeys.Full, "the full form", null),
                FhirItems.Option(System("form"), RecordKeys.Short, "the short form", null)
            );
            Add(group, RecordKeys.Form, form);
        }
    }

    private void AddHistory()
    {
        if (_protocol.Program.History.Count == 0)
        {
            return;
        }

        var group = _places.Group(HistoryGroup, "Case history");
        foreach (var slot in _protocol.Program.History)
        {
            var item = FhirItems.Item(ResultColumns.Of(slot), slot.Question.Text, "boolean");
            item["required"] = slot.IsNeeded;
            Add(group, ResultColumns.Of(slot), item);
        }
    }

    private void AddTask(ProtocolTask task)
    {
        var answers = _protocol.Program.Answers.Where(a => TaskOf(a) == task.Name).ToList();
        var observations = _protocol.Program.Observations.Where(o => o.Task.Name == task.Name).ToList();
        if (answers.Count + observations.Count == 0)
        {
            return;
        }

        var group = _places.Group("task/" + task.Name, task.Title);
        foreach (var answer in answers)
        {
            AddAnswer(group, answer);
        }

        foreach (var slot in observations)
        {
            var text = Labelled(task, slot.Variant, slot.Observation.Text, 1);
            var item = FhirItems.Item(ResultColumns.Of(slot), text, "choice");
            item["answerOption"] = new JsonArray(
                FhirItems.Option(System("observation"), RecordKeys.Seen, "seen", null),
                FhirItems.Option(System("observation"), RecordKeys.Looked, "looked for, not seen", null)
            );
            Add(group, ResultColumns.Of(slot), item);
        }
    }

    /// <summary>What is asked about help stands with the task that was helped.</summary>
    private static string TaskOf(AnswerSlot answer) =>
        answer.IsHelp ? HelpLadder.TaskOf(answer.Task.Name) : answer.Task.Name;

    private void AddAnswer(JsonObject group, AnswerSlot answer)
    {
        var response = answer.Response;
        var asked = response.IsNumber
            ? Words.OfNumber(response)
            : response.Question ?? Names.ToWords(response.Name);
        var text = answer.IsHelp
            ? OfHelp(answer, asked)
            : Labelled(answer.Task, answer.Variant, Words.Sentence(asked), answer.Trial);
        if (!response.IsNumber)
        {
            var item = FhirItems.Item(answer.Key, text, "choice");
            item["answerOption"] = new JsonArray([.. Values(response), .. Codes(answer)]);
            Add(group, answer.Key, item);
            return;
        }

        var type = response.Step.IsInteger && response.Low.IsInteger ? "Integer" : "Decimal";
        var number = FhirItems
            .Item(answer.Key, text, type.ToLowerInvariant())
            .Between(response.Low, response.High, type)
            .InUnit(response.Unit);
        if (type == "Decimal" && FhirText.Decimals(response.Step) is { } decimals)
        {
            number.With(FhirItems.Extension(FhirItems.Core + "maxDecimalPlaces", "Integer", decimals));
        }

        Add(group, answer.Key, number);
        var why = FhirItems.Item(Untried(answer.Key), text + ": not tried, because", "choice");
        why["answerOption"] = new JsonArray([.. Codes(answer)]);
        Add(group, Untried(answer.Key), why);
    }

    private IEnumerable<JsonNode> Values(Response response) =>
        response.Scale is { } scale
            ? scale.Levels.Select(l =>
                FhirItems.Option(
                    System("scale:" + scale.Name),
                    l.Points.ToString(),
                    $"{l.Points}: {l.Text}",
                    l.Points
                )
            )
            : response.Options.Select(o =>
                FhirItems.Option(
                    System("options"),
                    o.Name,
                    o.Text.Length > 0 ? o.Text : Names.ToWords(o.Name),
                    null
                )
            );

    private static IEnumerable<JsonNode> Codes(AnswerSlot answer) =>
        States.Untried.Select(u => FhirItems.Option(FhirItems.Systems + "untried", u.Code, u.Words, null));

    private static string OfHelp(AnswerSlot answer, string asked)
    {
        var text = GivenTasks.IsHelpGiven(answer)
            ? "Help that was given"
            : Words.Sentence(asked) + ", with help";
        var side = Words.Of(answer.Task, answer.Variant);
        return side.Length == 0 ? text : $"{side}: {text}";
    }

    private static string Labelled(ProtocolTask task, Variant variant, string text, int trial)
    {
        var side = Words.Of(task, variant);
        var start = side.Length == 0 ? "" : side + ": ";
        return task.Trials.Count == 1
            ? start + text
            : FormattableString.Invariant($"{start}{text}, trial {trial}");
    }

    private void Add(JsonObject group, string key, JsonObject item)
    {
        _items[key] = item;
        Paths[key] = FhirPlaces.Add(group, item);
    }
}
