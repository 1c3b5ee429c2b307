using System.Text;
using System.Text.Json;

namespace ProtocolKit.Verification.Targets;

/// <summary>
/// Records to a harness and its answers back, as JSON. What is the same in all records, the keys and names, is said once.
/// </summary>
internal static class JsonBatch
{
    /// <summary>A list of records, each its fields, age, form, answers, observations and history.</summary>
    public static string Write(RecordKeyLists keys, IReadOnlyList<TrialRecord> records)
    {
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer))
        {
            json.WriteStartArray();
            foreach (var record in records)
            {
                WriteOne(json, keys, record);
            }

            json.WriteEndArray();
        }

        return Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length);
    }

    /// <summary>
    /// Two lists: the lists of outputs' names that came up; and for each record its lines, the fields as read (both as text with
    /// commas), the place of its list of names, and its outputs in the order of those.
    /// </summary>
    public static IReadOnlyList<TargetAnswer> Read(string answer)
    {
        var reader = new Utf8JsonReader(Encoding.UTF8.GetBytes(answer));
        reader.Read();
        reader.Read();
        var names = new List<List<string>>();
        while (Enters(ref reader))
        {
            names.Add(Texts(ref reader));
        }

        reader.Read();
        var answers = new List<TargetAnswer>();
        while (Enters(ref reader))
        {
            var (lines, read) = (Numbers(ref reader), Numbers(ref reader));
            reader.Read();
            var ofRecord = names[reader.GetInt32()];
            answers.Add(
                new TargetAnswer(lines, read, [.. ofRecord.Zip(Texts(ref reader), KeyValuePair.Create)])
            );
        }

        return answers;
    }

    /// <summary>Into the next list of a list; false at its end.</summary>
    private static bool Enters(ref Utf8JsonReader reader) =>
        reader.Read() && reader.TokenType == JsonTokenType.StartArray;

    private static SaidNumbers Numbers(ref Utf8JsonReader reader)
    {
        reader.Read();
        return SaidNumbers.Read(reader.GetString());
    }

    /// <summary>Texts up to the list's end.</summary>
    private static List<string> Texts(ref Utf8JsonReader reader)
    {
        var texts = new List<string>();
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray)
        {
            texts.Add(reader.GetString()!);
        }

        return texts;
    }

    private static void WriteOne(Utf8JsonWriter json, RecordKeyLists keys, TrialRecord record)
    {
        var plain = record.Plain;
        json.WriteStartArray();
        json.WriteStartArray();
        foreach (var field in record.Fields)
        {
            json.WriteNumberValue(field);
        }

        json.WriteEndArray();
        json.WriteNumberValue(plain.AgeMonths);
        json.WriteStringValue(plain.IsShortForm ? "short" : "full");
        json.WriteStartArray();
        foreach (var answer in keys.Answers(plain))
        {
            if (answer?.Number is null)
            {
                json.WriteStringValue(answer?.Word);
            }
            else
            {
                json.WriteRawValue(answer.Text, skipInputValidation: true);
            }
        }

        json.WriteEndArray();
        WriteTexts(json, keys.Observations(plain).Select(o => o?.Text));
        WriteTexts(json, keys.History(plain).Select(h => h?.Text));
        json.WriteEndArray();
    }

    private static void WriteTexts(Utf8JsonWriter json, IEnumerable<string?> texts)
    {
        json.WriteStartArray();
        foreach (var text in texts)
        {
            json.WriteStringValue(text);
        }

        json.WriteEndArray();
    }
}
