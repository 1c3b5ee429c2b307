using System.Text;
using System.Text.Json;
using ProtocolKit.Testing;

namespace ProtocolKit.Verification.Targets;

/// <summary>Records to a harness and its answers back, as JSON.</summary>
internal static class JsonBatch
{
    public static string Write(IReadOnlyList<TrialRecord> records)
    {
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartArray();
            foreach (var record in records)
            {
                WriteOne(json, record);
            }

            json.WriteEndArray();
        }

        return Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length);
    }

    public static IReadOnlyList<TargetAnswer> Read(string answer)
    {
        using var json = JsonDocument.Parse(answer);
        return
        [
            .. json
                .RootElement.EnumerateArray()
                .Select(one => new TargetAnswer(
                    Texts(one.GetProperty("lines")),
                    Texts(one.GetProperty("read")),
                    [
                        .. one.GetProperty("outputs")
                            .EnumerateArray()
                            .Select(o => KeyValuePair.Create(o[0].GetString()!, o[1].GetString()!)),
                    ]
                )),
        ];
    }

    private static IReadOnlyList<string> Texts(JsonElement values) =>
        [
            .. values
                .EnumerateArray()
                .Select(v => v.ValueKind == JsonValueKind.String ? v.GetString()! : v.GetRawText()),
        ];

    private static void WriteOne(Utf8JsonWriter json, TrialRecord record)
    {
        json.WriteStartObject();
        json.WriteStartArray("fields");
        foreach (var field in record.Fields)
        {
            json.WriteNumberValue(field);
        }

        json.WriteEndArray();
        json.WriteStartObject("record");
        json.WriteNumber("ageMonths", record.Plain.AgeMonths);
        json.WriteString("form", record.Plain.IsShortForm ? "short" : "full");
        json.WriteStartObject("answers");
        foreach (var answer in record.Plain.Answers)
        {
            json.WritePropertyName(answer.Key);
            WriteValue(json, answer);
        }

        json.WriteEndObject();
        json.WriteStartObject("observations");
        foreach (var observation in record.Plain.Observations)
        {
            json.WriteString(observation.Key, observation.Text);
        }

        json.WriteEndObject();
        json.WriteStartObject("history");
        foreach (var answer in record.Plain.History)
        {
            json.WriteString(answer.Key, answer.Text);
        }

        json.WriteEndObject();
        json.WriteEndObject();
        json.WriteEndObject();
    }

    private static void WriteValue(Utf8JsonWriter json, PlainAnswer answer)
    {
        if (answer.Number is { } number)
        {
            json.WriteRawValue(number.ToString());
        }
        else
        {
            json.WriteStringValue(answer.Word);
        }
    }
}
