using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>A record's fields as the texts of a table of records, and as what the questionnaire's routing comes to.</summary>
internal sealed class FhirCells
{
    private readonly Protocol _protocol;
    private readonly IReadOnlyList<long> _fields;
    private readonly FurtherTrials _further;
    private readonly Dictionary<string, string> _cells = new(StringComparer.Ordinal);

    public FhirCells(Protocol protocol, IReadOnlyList<long> fields)
    {
        (_protocol, _fields) = (protocol, fields);
        var program = protocol.Program;
        _further = new FurtherTrials(program);
        _cells[RecordKeys.AgeMonths] = FhirText.Whole(fields[program.AgeField]);
        _cells[RecordKeys.Form] = fields[program.FormField] == 1 ? RecordKeys.Short : RecordKeys.Full;
        foreach (var slot in program.History)
        {
            _cells[ResultColumns.Of(slot)] = fields[slot.Field] == 1 ? RecordKeys.Yes : RecordKeys.No;
        }

        foreach (var slot in program.Observations.Where(o => fields[o.Field] > 0))
        {
            _cells[ResultColumns.Of(slot)] = fields[slot.Field] == 2 ? RecordKeys.Seen : RecordKeys.Looked;
        }

        foreach (var slot in program.Answers.Where(a => fields[a.StateField] != (long)State.NotApplicable))
        {
            _cells[slot.Key] = Answer(slot);
        }
    }

    /// <summary>The text of a column; null where there is none.</summary>
    public string? Of(string column) => _cells.GetValueOrDefault(column);

    /// <summary>How it stands with a further trial: 0 due, 1 may be given, 2 needless, 3 unclear.</summary>
    public int Need(AnswerSlot answer)
    {
        var (after, below) = _further.Of(answer);
        if (after < 0)
        {
            return 0;
        }

        var before = _protocol.Program.Answers[after];
        var needBefore = Need(before);
        return needBefore == 2 ? 2
            : _fields[before.StateField] > 1 ? 1
            : _fields[before.StateField] == 1 ? (needBefore == 1 || IsOffForm(before) ? 1 : 3)
            : _fields[before.ValueField] < below ? 0
            : 2;
    }

    private bool IsOffForm(AnswerSlot answer) =>
        _protocol.HasShortForm && _fields[_protocol.Program.FormField] == 1 && !answer.Task.ShortForm;

    private string Answer(AnswerSlot slot)
    {
        var state = (State)_fields[slot.StateField];
        if (state != State.Known)
        {
            return States.Untried.First(u => u.State == state).Code;
        }

        var value = _fields[slot.ValueField];
        var response = slot.Response;
        return response.HasOptions ? response.Options[(int)value].Name
            : response.Scale is { } scale
                ? scale.Levels.Select(l => l.Points).Order().ElementAt((int)value).ToString()
            : (response.Step * value).ToString();
    }
}
