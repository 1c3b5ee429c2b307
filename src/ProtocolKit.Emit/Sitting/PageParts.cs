using System.Security.Cryptography;
using System.Text;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Sitting;

/// <summary>
/// Puts the page's own scripts and style together. They are ordinary files under <c>templates/sitting-page</c>; here they
/// lose their indentation and the comments that fill a line, and nothing else. So no string in them may go over a line's end.
/// </summary>
internal static class PageParts
{
    /// <summary>In the order in which they read each other's constants; functions may be read from anywhere.</summary>
    public static IReadOnlyList<string> ScriptNames { get; } =
    [
        "words",
        "elements",
        "protocol",
        "clock",
        "log",
        "task-time",
        "store",
        "saving",
        "sheet",
        "routing",
        "record",
        "yaml",
        "taking-in",
        "second-entry",
        "fields",
        "numbers",
        "timer",
        "task",
        "screens",
        "start",
        "before",
        "giving",
        "welfare",
        "end",
        "result",
        "history",
        "paper",
        "main",
    ];

    /// <summary>The emitted module as it stands, and one line that hands it to the page.</summary>
    public static string Scoring(string module) =>
        module.TrimEnd('\n') + "\nglobalThis.emittedScoring = { about, score, readRecord, scoreFields };\n";

    public static string Scripts(TemplateSource templates) =>
        string.Concat(ScriptNames.Select(n => Lean(templates.TextOf($"sitting-page/{n}.js"), "//")));

    public static string Style(TemplateSource templates) =>
        Lean(templates.TextOf("sitting-page/style.css"), "/*");

    /// <summary>As a content policy names what may run. Source: W3C, Content Security Policy Level 3, section 2.3.1.</summary>
    public static string Digest(string text) =>
        $"'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text)))}'";

    private static string Lean(string text, string comment) =>
        string.Concat(
            text.ReplaceLineEndings("\n")
                .Split('\n')
                .Select(line => line.Trim())
                .Where(line => line.Length > 0 && !IsComment(line, comment))
                .Select(line => line + "\n")
        );

    /// <summary>A comment of a style sheet must end on its line to be left out.</summary>
    private static bool IsComment(string line, string mark) =>
        line.StartsWith(mark, StringComparison.Ordinal)
        && (mark == "//" || line.IndexOf("*/", StringComparison.Ordinal) == line.Length - 2);
}
