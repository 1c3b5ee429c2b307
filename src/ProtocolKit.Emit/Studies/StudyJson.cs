using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Studies;

/// <summary>The whole of a study as JSON: figures in full precision, and null for what is not defined.</summary>
public static class StudyJson
{
    public static string Write(StudyReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        using var stream = new MemoryStream();
        var options = new JsonWriterOptions
        {
            Indented = true,
            NewLine = "\n",
            Encoder = JavaScriptEncoder.Default,
        };
        using (var json = new Utf8JsonWriter(stream, options))
        {
            json.WriteStartObject();
            json.WriteString("study", report.Kind);
            json.WriteString("protocol", report.Protocol.Name);
            json.WriteString("edition", report.Protocol.Edition);
            json.WriteString("interpretation", report.Protocol.Fingerprints.Interpretation);
            Facts(json, "asked", report.Asked);
            Facts(json, "data", report.Data);
            Facts(json, "left-out", report.LeftOut);
            json.WriteStartObject("tables");
            foreach (var table in report.Tables)
            {
                Table(json, table);
            }

            json.WriteEndObject();
            Texts(json, "may-be-concluded", report.May);
            Texts(json, "may-not-be-concluded", report.MayNot);
            Texts(json, "cautions", StudyPage.Cautions(report.Protocol));
            Texts(json, "to-paste", report.Blocks.Select(b => b.Text));
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    private static void Facts(Utf8JsonWriter json, string name, IEnumerable<EvidenceFact> facts)
    {
        json.WriteStartArray(name);
        foreach (var fact in facts)
        {
            json.WriteStartObject();
            json.WriteString("what", fact.Name);
            json.WriteString("text", fact.Text);
            json.WriteEndObject();
        }

        json.WriteEndArray();
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

    private static void Table(Utf8JsonWriter json, EvidenceTable table)
    {
        json.WriteStartArray(table.Name);
        foreach (var row in table.Rows)
        {
            json.WriteStartObject();
            for (var i = 0; i < row.Count; i++)
            {
                Cell(json, table.Columns[i], row[i]);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static void Cell(Utf8JsonWriter json, EvidenceColumn column, EvidenceCell cell)
    {
        if (column.IsInterval)
        {
            json.WriteStartArray(column.Name);
            Number(json, cell.Low);
            Number(json, cell.High);
            json.WriteEndArray();
        }
        else if (cell.Value is { } value)
        {
            json.WriteNumber(column.Name, value);
        }
        else
        {
            json.WriteString(column.Name, cell.Text);
        }
    }

    private static void Number(Utf8JsonWriter json, double? value)
    {
        if (value is { } number)
        {
            json.WriteNumberValue(number);
        }
        else
        {
            json.WriteNullValue();
        }
    }
}
