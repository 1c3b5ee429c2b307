using System.Text;
using System.Text.Json;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Workspace;

namespace ProtocolKit.Cli.Reporting;

/// <summary>
/// Findings for programs: an array of files, each with <c>file</c>, <c>ok</c> and <c>findings</c> (code, severity, file,
/// line, column, length, message, fix).
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
        json.WriteStartArray("findings");
        foreach (var diagnostic in file.Compilation.Diagnostics)
        {
            json.WriteStartObject();
            json.WriteString("code", diagnostic.Code);
            json.WriteString("severity", DiagnosticText.Word(diagnostic.Severity));
            json.WriteString("file", diagnostic.Source.Name);
            json.WriteNumber("line", diagnostic.Place.Line);
            json.WriteNumber("column", diagnostic.Place.Column);
            json.WriteNumber("length", diagnostic.Place.Length);
            json.WriteString("message", diagnostic.Message.Text);
            if (diagnostic.Message.Fix is { } fix)
            {
                json.WriteString("fix", fix);
            }

            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }
}
