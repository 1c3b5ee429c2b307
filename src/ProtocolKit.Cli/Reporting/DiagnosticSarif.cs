using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Language;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Workspace;

namespace ProtocolKit.Cli.Reporting;

/// <summary>
/// Findings as a log of the Static Analysis Results Interchange Format, version 2.1.0 (OASIS Standard, 27 March 2020): one run
/// with the rules that were met, a result for each finding, its other place and its quick edit. Columns count UTF-16 characters.
/// </summary>
internal static class DiagnosticSarif
{
    private const string Schema =
        "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

    private static readonly JsonSerializerOptions Layout = new() { WriteIndented = true, NewLine = "\n" };

    public static string Render(IReadOnlyList<ProtocolFile> files)
    {
        var met = files
            .SelectMany(f => f.Compilation.Diagnostics)
            .Select(d => d.Code)
            .Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal)
            .ToList();
        var run = new JsonObject
        {
            ["tool"] = new JsonObject
            {
                ["driver"] = new JsonObject
                {
                    ["name"] = "ProtocolKit",
                    ["rules"] = new JsonArray([.. met.Select(c => Rule(Catalogue.Find(c)!))]),
                },
            },
            ["columnKind"] = "utf16CodeUnits",
            ["invocations"] = new JsonArray(Invocation(files)),
            ["results"] = new JsonArray([
                .. files.SelectMany(f => f.Compilation.Diagnostics.Select(d => Result(f, d, met))),
            ]),
        };
        return new JsonObject
        {
            ["$schema"] = Schema,
            ["version"] = "2.1.0",
            ["runs"] = new JsonArray(run),
        }.ToJsonString(Layout);
    }

    private static JsonObject Rule(Descriptor entry) =>
        new()
        {
            ["id"] = entry.Code,
            ["shortDescription"] = Text(entry.Title),
            ["fullDescription"] = Text(entry.Explanation),
            ["help"] = new JsonObject
            {
                ["text"] = FindingPage.Text(entry),
                ["markdown"] = FindingPage.Markdown(entry),
            },
            ["defaultConfiguration"] = new JsonObject { ["level"] = DiagnosticText.Word(entry.Severity) },
        };

    /// <summary>Findings beyond the bound are only counted; a log that passed over them would look complete.</summary>
    private static JsonObject Invocation(IReadOnlyList<ProtocolFile> files)
    {
        var invocation = new JsonObject { ["executionSuccessful"] = true };
        var omitted = files.Sum(f => f.Compilation.Omitted);
        if (omitted > 0)
        {
            invocation["toolExecutionNotifications"] = new JsonArray(
                new JsonObject
                {
                    ["level"] = "warning",
                    ["message"] = Message($"{omitted} more findings are not listed."),
                }
            );
        }

        return invocation;
    }

    /// <summary>What is found, the sitting that shows it line by line, and what to write instead.</summary>
    private static string Whole(Message message)
    {
        var text = string.Join('\n', message.Details.Prepend(message.Text));
        return message.Fix is null ? text
            : message.Details.Count == 0 ? $"{text} {message.Fix}"
            : $"{text}\n{message.Fix}";
    }

    private static JsonObject Result(ProtocolFile file, Diagnostic diagnostic, List<string> met)
    {
        var message = diagnostic.Message;
        var result = new JsonObject
        {
            ["ruleId"] = diagnostic.Code,
            ["ruleIndex"] = met.IndexOf(diagnostic.Code),
            ["level"] = DiagnosticText.Word(diagnostic.Severity),
            ["message"] = Message(Whole(message)),
            ["locations"] = new JsonArray(Location(file, diagnostic.Source, diagnostic.Place)),
        };
        if (diagnostic.Related.Count > 0)
        {
            result["relatedLocations"] = new JsonArray([
                .. diagnostic.Related.Select(
                    (r, i) =>
                    {
                        var location = Location(file, r.Source, r.Place);
                        location["id"] = i + 1;
                        location["message"] = Message(r.Text);
                        return location;
                    }
                ),
            ]);
        }

        if (diagnostic.Edit is { } edit)
        {
            result["fixes"] = new JsonArray(Fix(file, diagnostic, edit));
        }

        return result;
    }

    private static JsonObject Fix(ProtocolFile file, Diagnostic diagnostic, QuickEdit edit) =>
        new()
        {
            ["description"] = Message(diagnostic.Message.Fix ?? "Replace it."),
            ["artifactChanges"] = new JsonArray(
                new JsonObject
                {
                    ["artifactLocation"] = Artefact(file, diagnostic.Source),
                    ["replacements"] = new JsonArray(
                        new JsonObject
                        {
                            ["deletedRegion"] = Region(edit.Place),
                            ["insertedContent"] = Text(edit.Text),
                        }
                    ),
                }
            ),
        };

    private static JsonObject Location(ProtocolFile file, SourceText source, Place place) =>
        new()
        {
            ["physicalLocation"] = new JsonObject
            {
                ["artifactLocation"] = Artefact(file, source),
                ["region"] = Region(place),
            },
        };

    /// <summary>The end column is that of the character after the place.</summary>
    private static JsonObject Region(Place place) =>
        new()
        {
            ["startLine"] = place.Line,
            ["startColumn"] = place.Column,
            ["endLine"] = place.Line,
            ["endColumn"] = place.Column + place.Length,
        };

    private static JsonObject Artefact(ProtocolFile file, SourceText source) =>
        new() { ["uri"] = UriOf(file.PathOf(source)) };

    /// <summary>A relative reference or a <c>file</c> address, as RFC 3986 spells them.</summary>
    public static string UriOf(string path)
    {
        var isDrive = path.Length > 1 && path[1] == ':';
        var parts = path.Split('/').Select(Uri.EscapeDataString);
        var escaped = string.Join('/', parts);
        return path.StartsWith('/') ? "file://" + escaped
            : isDrive ? "file:///" + escaped
            : escaped;
    }

    /// <summary>In messages braces are doubled, since single ones stand for arguments (section 3.11.5 of the standard).</summary>
    private static JsonObject Message(string text) =>
        Text(text.Replace("{", "{{", StringComparison.Ordinal).Replace("}", "}}", StringComparison.Ordinal));

    private static JsonObject Text(string text) => new() { ["text"] = text };
}
