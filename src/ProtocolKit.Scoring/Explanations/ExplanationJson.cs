using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// An explanation as one JSON object. The shape is stable: keys are only ever added.
/// <list type="bullet">
/// <item><c>protocol</c>, <c>edition</c>, <c>fingerprints</c> { <c>form</c>, <c>administration</c>, <c>interpretation</c> }</item>
/// <item><c>case</c>, <c>age</c> (<c>4;3</c>), <c>ageMonths</c>, <c>seen</c> [dates], <c>form</c> (full|short), <c>rater</c>?</item>
/// <item><c>headline</c> { <c>action</c>, <c>title</c>, <c>urgency</c>? } or null; <c>override</c>? { <c>action</c>, <c>reason</c>, <c>role</c> }</item>
/// <item><c>outcomes</c> [{ <c>name</c>, <c>title</c>, <c>kind</c> (score|measure), <c>state</c> (known|not-applicable|an untried code),
/// <c>low</c>?, <c>high</c>? (exact decimals as numbers, other fractions as texts such as "7/3"), <c>unit</c>?,
/// <c>untried</c> [{ <c>key</c>, <c>state</c> }], <c>cutOffs</c>? { <c>state</c> (known|undecided|not-applicable|blocked|no-band), <c>band</c>?, <c>ages</c>?,
/// <c>basis</c> (provisional|published|pilot), <c>provisional</c> }, <c>text</c>? }]</item>
/// <item><c>actions</c> [{ <c>action</c>, <c>title</c>, <c>urgency</c>?, <c>decision</c> (applies|applies-not|undecided), <c>text</c> }]</item>
/// <item><c>answers</c> [{ <c>key</c>, <c>state</c>, <c>value</c>?, <c>trial</c>? }]</item>
/// <item><c>result</c>, <c>signs</c>, <c>events</c>, <c>remarks</c>, <c>cautions</c>: lists of sentences</item>
/// </list>
/// A question mark says that the key is left out when there is nothing to say. Indented by two, <c>\n</c> line ends.
/// </summary>
public static class ExplanationJson
{
    private static readonly JsonWriterOptions Layout = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Create(System.Text.Unicode.UnicodeRanges.All),
    };

    public static string Write(Explanation explanation)
    {
        ArgumentNullException.ThrowIfNull(explanation);
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer, Layout))
        {
            json.WriteStartObject();
            Head(json, explanation.Scored);
            Outcomes(json, explanation);
            Actions(json, explanation);
            Answers(json, explanation.Scored);
            Texts(json, "result", explanation.Result);
            Texts(json, "signs", explanation.Observations);
            Texts(json, "events", explanation.Events);
            Texts(json, "not-given", explanation.NotGiven);
            Texts(json, "remarks", explanation.Remarks);
            Texts(json, "cautions", explanation.Cautions);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan) + "\n";
    }

    private static void Head(Utf8JsonWriter json, ScoredRecord scored)
    {
        var (protocol, record) = (scored.Protocol, scored.Record);
        json.WriteString("protocol", protocol.Name);
        json.WriteString("edition", protocol.Edition);
        json.WriteStartObject("fingerprints");
        json.WriteString("form", protocol.Fingerprints.Form);
        json.WriteString("administration", protocol.Fingerprints.Administration);
        json.WriteString("interpretation", protocol.Fingerprints.Interpretation);
        json.WriteEndObject();
        json.WriteString("case", record.Case);
        json.WriteString("age", record.Age.ToString());
        json.WriteNumber("ageMonths", record.Age.Months);
        Texts(json, "seen", record.Seen.Select(d => d.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)));
        json.WriteString("form", record.IsShortForm ? RecordKeys.Short : RecordKeys.Full);
        if (record.SinceBirth is { } since)
        {
            json.WriteNumber("ageMonthsSinceBirth", since.Months);
        }

        Optional(json, "digest", record.Digest);
        Optional(json, "rater", record.Rater?.Code);
        json.WritePropertyName("headline");
        if (scored.Headline is { } headline)
        {
            json.WriteStartObject();
            Action(json, headline);
            json.WriteEndObject();
        }
        else
        {
            json.WriteNullValue();
        }

        if (record.Override is { } decision)
        {
            json.WriteStartObject("override");
            json.WriteString("action", decision.Action);
            json.WriteString("reason", decision.Reason);
            json.WriteString("role", decision.Role);
            json.WriteEndObject();
        }
    }

    private static void Outcomes(Utf8JsonWriter json, Explanation explanation)
    {
        var texts = explanation
            .Outcomes.Where(o => o.Name.Length > 0)
            .ToDictionary(o => o.Name, o => o.Text, StringComparer.Ordinal);
        json.WriteStartArray("outcomes");
        foreach (var result in explanation.Scored.Outcomes)
        {
            json.WriteStartObject();
            json.WriteString("name", result.Outcome.Name);
            json.WriteString("title", result.Outcome.Title);
            json.WriteString("kind", result.Outcome.IsScore ? "score" : "measure");
            Value(json, result);
            CutOffs(json, OutcomeSentences.BandOf(explanation.Scored, result.Outcome));
            Optional(json, "text", texts.GetValueOrDefault(result.Outcome.Name));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Value(Utf8JsonWriter json, OutcomeResult result)
    {
        json.WriteString("state", StateWords.Of(result.State));
        if (result.State == State.Known)
        {
            Number(json, "low", result.Low);
            Number(json, "high", result.High);
            Optional(json, "unit", result.Outcome.Unit.IsPure ? null : result.Outcome.Unit.Symbol);
        }

        json.WriteStartArray("untried");
        foreach (var (key, state) in result.Untried)
        {
            json.WriteStartObject();
            json.WriteString("key", key);
            json.WriteString("state", StateWords.Of(state));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void CutOffs(Utf8JsonWriter json, BandResult? band)
    {
        if (band is null)
        {
            return;
        }

        json.WriteStartObject("cutOffs");
        json.WriteString("state", StateWords.Of(band.State));
        Optional(json, "band", band.Band?.Name);
        Optional(json, "ages", band.Row?.Ages.ToString());
        json.WriteString("basis", StateWords.Of(band.Table.Basis.Kind));
        json.WriteBoolean("provisional", band.Table.Basis.IsProvisional);
        json.WriteEndObject();
    }

    private static void Actions(Utf8JsonWriter json, Explanation explanation)
    {
        json.WriteStartArray("actions");
        foreach (var (result, sentence) in explanation.Scored.Actions.Zip(explanation.Actions))
        {
            json.WriteStartObject();
            Action(json, result.Action);
            json.WriteString("decision", StateWords.Of(result.Decision));
            json.WriteString("text", sentence.Text);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Answers(Utf8JsonWriter json, ScoredRecord scored)
    {
        json.WriteStartArray("answers");
        foreach (var kept in scored.Kept)
        {
            json.WriteStartObject();
            json.WriteString("key", kept.Lines.Key);
            json.WriteString("state", StateWords.Of(kept.State));
            Optional(json, "value", kept.State == State.Known ? kept.Text() : null);
            if (kept.Trial > 0)
            {
                json.WriteNumber("trial", kept.Trial);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Action(Utf8JsonWriter json, ProtocolAction action)
    {
        json.WriteString("action", action.Name);
        json.WriteString("title", action.Title);
        Optional(json, "urgency", action.Urgency);
    }

    private static void Texts(Utf8JsonWriter json, string name, IEnumerable<string> texts)
    {
        json.WriteStartArray(name);
        foreach (var text in texts)
        {
            json.WriteStringValue(text);
        }

        json.WriteEndArray();
    }

    private static void Optional(Utf8JsonWriter json, string name, string? text)
    {
        if (text is not null)
        {
            json.WriteString(name, text);
        }
    }

    private static void Number(Utf8JsonWriter json, string name, Rational value)
    {
        var text = value.ToString();
        if (text.Contains('/', StringComparison.Ordinal))
        {
            json.WriteString(name, text);
            return;
        }

        json.WritePropertyName(name);
        json.WriteRawValue(text);
    }
}
