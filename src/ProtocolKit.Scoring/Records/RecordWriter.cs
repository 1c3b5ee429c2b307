using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Writes a record as YAML that <see cref="RecordReader"/> reads back to the same fields, as long as the
/// fields are those of a record that can be filled in (no trial beyond the needed ones). No birth date is
/// written, only the age in months.
/// </summary>
public static class RecordWriter
{
    public static string Write(Protocol protocol, SittingRecord record)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(record);
        var text = new StringBuilder();
        Head(text, protocol, record);
        Level(
            text,
            RecordKeys.Consents,
            record.Consents.Select(c => (c.Key, c.Value ? RecordKeys.Yes : RecordKeys.No))
        );
        Level(text, RecordKeys.History, record.History.Select(h => (h.Key, Quote(h.Value))));
        Level(text, RecordKeys.Answers, Answers(protocol.Program, record.Fields));
        Level(text, RecordKeys.Help, record.Help.Select(h => (h.Key, Quote(h.Value))));
        Level(text, RecordKeys.Observations, Observations(protocol.Program, record.Fields));
        Items(text, RecordKeys.Events, record.Events.Select(OfEvent));
        Level(text, RecordKeys.Notes, record.Notes.Select(n => (n.Key, Quote(n.Value))));
        if (record.Override is { } decision)
        {
            Items(
                text,
                RecordKeys.Overrides,
                [
                    [
                        ("action", Quote(decision.Action)),
                        ("reason", Quote(decision.Reason)),
                        ("role", Quote(decision.Role)),
                    ],
                ]
            );
        }

        Items(text, RecordKeys.Corrections, record.Corrections.Select(OfCorrection));
        return text.ToString();
    }

    private static void Head(StringBuilder text, Protocol protocol, SittingRecord record)
    {
        Line(text, RecordKeys.Protocol, protocol.Name);
        Line(text, RecordKeys.Edition, Quote(protocol.Edition));
        Level(
            text,
            RecordKeys.Fingerprints,
            [
                ("form", Quote(protocol.Fingerprints.Form)),
                ("administration", Quote(protocol.Fingerprints.Administration)),
                ("interpretation", Quote(protocol.Fingerprints.Interpretation)),
            ]
        );
        Line(text, RecordKeys.Case, Quote(record.Case));
        Line(text, RecordKeys.AgeMonths, record.Age.Months.ToString(CultureInfo.InvariantCulture));
        Items(text, RecordKeys.Parts, record.Seen.Select(d => new[] { (RecordKeys.Seen, Day(d)) }));
        Line(text, RecordKeys.Form, record.IsShortForm ? RecordKeys.Short : RecordKeys.Full);
        if (record.Rater is not null)
        {
            Line(text, RecordKeys.Rater, Quote(record.Rater));
        }
    }

    private static IEnumerable<(string, string)> Answers(
        ScoringProgram program,
        IReadOnlyList<long> fields
    ) =>
        program
            .Answers.Select(slot => (slot, State: (State)fields[slot.StateField]))
            .Where(s => s.State != State.NotApplicable)
            .Select(s =>
                (s.slot.Key, AnswerValue.Write(s.slot.Response, s.State, fields[s.slot.ValueField]))
            );

    private static IEnumerable<(string, string)> Observations(
        ScoringProgram program,
        IReadOnlyList<long> fields
    ) =>
        program
            .Observations.Where(slot => fields[slot.Field] > 0)
            .Select(slot => (slot.Key, fields[slot.Field] == 2 ? RecordKeys.Seen : RecordKeys.Looked));

    private static IEnumerable<(string, string)> OfEvent(SittingEvent one) =>
        Present(
            ("what", one.What),
            ("task", one.Task),
            ("touched", one.Touched),
            ("recovered", one.Recovered),
            ("done", one.Done)
        );

    private static IEnumerable<(string, string)> OfCorrection(Correction one) =>
        Present(
            ("who", one.Who),
            ("when", Day(one.When)),
            ("why", one.Why),
            ("old", one.Old),
            ("new", one.New),
            ("key", one.Key)
        );

    private static IEnumerable<(string, string)> Present(params (string Key, string? Value)[] entries) =>
        entries.Where(e => e.Value is not null).Select(e => (e.Key, Quote(e.Value!)));

    private static string Day(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static void Line(StringBuilder text, string key, string value) =>
        text.Append(key).Append(": ").Append(value).Append('\n');

    private static void Level(StringBuilder text, string key, IEnumerable<(string Key, string Value)> entries)
    {
        var isFirst = true;
        foreach (var (name, value) in entries)
        {
            text.Append(isFirst ? key + ":\n" : "").Append("  ");
            Line(text, name, value);
            isFirst = false;
        }
    }

    private static void Items(
        StringBuilder text,
        string key,
        IEnumerable<IEnumerable<(string Key, string Value)>> items
    )
    {
        var isFirst = true;
        foreach (var item in items)
        {
            text.Append(isFirst ? key + ":\n" : "");
            isFirst = false;
            var lead = "  - ";
            foreach (var (name, value) in item)
            {
                text.Append(lead);
                Line(text, name, value);
                lead = "    ";
            }
        }
    }

    /// <summary>A double-quoted text of YAML, which is a string of JSON as well.</summary>
    private static string Quote(string value)
    {
        var text = new StringBuilder("\"");
        foreach (var c in value)
        {
            _ = c switch
            {
                '"' or '\\' => text.Append('\\').Append(c),
                '\n' => text.Append("\\n"),
                '\r' => text.Append("\\r"),
                '\t' => text.Append("\\t"),
                _ when char.IsControl(c) || c is '\u2028' or '\u2029' or '\uFEFF' => text.Append(
                    CultureInfo.InvariantCulture,
                    $"\\u{(int)c:x4}"
                ),
                _ => text.Append(c),
            };
        }

        return text.Append('"').ToString();
    }
}
