using System.Text;
using System.Text.Json;
using ProtocolKit.Language;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Workspace;

namespace ProtocolKit.Cli.Reporting;

/// <summary>
/// Findings for programs: an array of files, each with <c>file</c>, <c>ok</c> and <c>findings</c> (code, severity, file,
/// line, column, length, message, <c>details</c> that show it, fix, <c>edit</c> with the text to put at a place, and <c>related</c> places).
/// </summary>
internal static class DiagnosticJson
{
    public static string Render(IEnumerable<ProtocolFile> files)
    {
        using var stream = new MemoryStream();
        using (
            var json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n" })
        )
        {
            json.WriteStartArray();
            foreach (var file in files)
            {
                Write(json, file);
            }

            json.WriteEndArray();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static void Write(Utf8JsonWriter json, ProtocolFile file)
    {
        json.WriteStartObject();
        json.WriteString("file", file.Source.Name);
        json.WriteBoolean("ok", !file.Compilation.HasErrors);
        json.WriteNumber("omitted", file.Compilation.Omitted);
        json.WriteStartArray("findings");
        foreach (var diagnostic in file.Compilation.Diagnostics)
        {
            Write(json, diagnostic);
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Write(Utf8JsonWriter json, Diagnostic diagnostic)
    {
        json.WriteStartObject();
        json.WriteString("code", diagnostic.Code);
        json.WriteString("severity", DiagnosticText.Word(diagnostic.Severity));
        Place(json, diagnostic.Source, diagnostic.Place);
        json.WriteString("message", diagnostic.Message.Text);
        if (diagnostic.Message.Details.Count > 0)
        {
            json.WriteStartArray("details");
            foreach (var detail in diagnostic.Message.Details)
            {
                json.WriteStringValue(detail);
            }

            json.WriteEndArray();
        }

        if (diagnostic.Message.Fix is { } fix)
        {
            json.WriteString("fix", fix);
        }

        if (diagnostic.Edit is { } edit)
        {
            json.WriteStartObject("edit");
            Place(json, diagnostic.Source, edit.Place);
            json.WriteString("text", edit.Text);
            json.WriteEndObject();
        }

        if (diagnostic.Related.Count > 0)
        {
            json.WriteStartArray("related");
            foreach (var related in diagnostic.Related)
            {
                json.WriteStartObject();
                Place(json, related.Source, related.Place);
                json.WriteString("message", related.Text);
                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        json.WriteEndObject();
    }

    private static void Place(Utf8JsonWriter json, SourceText source, Place place)
    {
        json.WriteString("file", source.Name);
        json.WriteNumber("line", place.Line);
        json.WriteNumber("column", place.Column);
        json.WriteNumber("length", place.Length);
    }
}
