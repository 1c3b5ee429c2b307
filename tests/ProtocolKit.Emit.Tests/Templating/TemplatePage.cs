using System.Collections;
using System.Reflection;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Tests.Templating;

/// <summary>
/// Writes the page on templates: for each page its template, the templates it includes, and every variable with its type and, where
/// the source says something about it, what it is.
/// </summary>
internal static partial class TemplatePage
{
    public static string Write()
    {
        var text = new StringBuilder(Head);
        var views = new List<Type>();
        foreach (var entry in TemplateEntry.Pages)
        {
            text.Append($"\n## {entry.Name}\n\n{Sentence(entry.Purpose)}");
            var includes = Includes(entry.Name).ToList();
            text.Append(
                includes.Count == 0
                    ? "\n"
                    : $" It includes {string.Join(", ", includes.Select(i => $"`{i}`"))}, which see the same variables.\n"
            );
            Table(text, entry.View, views);
        }

        text.Append("\n## What variables hold\n");
        for (var i = 0; i < views.Count; i++)
        {
            text.Append($"\n### {Name(views[i])}\n");
            if (Remark(views[i], "summary") is { Length: > 0 } summary)
            {
                text.Append($"\n{summary}\n");
            }

            Table(text, views[i], views);
        }

        return text.ToString();
    }

    /// <summary>Variables of which the source says nothing, as <c>view.variable</c>.</summary>
    public static IReadOnlyList<string> Untold()
    {
        var views = TemplateEntry.Pages.Select(p => p.View).Distinct().ToList();
        var untold = new List<string>();
        for (var i = 0; i < views.Count; i++)
        {
            foreach (var property in views[i].GetProperties(BindingFlags.Public | BindingFlags.Instance))
            {
                _ = Kind(property, views); // a view met here joins the list
                if (Remark(views[i], property.Name).Length == 0)
                {
                    untold.Add($"{views[i].Name}.{property.Name}");
                }
            }
        }

        return untold;
    }

    /// <summary>Templates a template includes, and those they include.</summary>
    public static IEnumerable<string> Includes(string template) =>
        Include()
            .Matches(TemplateSource.BuiltIn.TextOf(template))
            .Select(m => m.Groups[1].Value)
            .SelectMany(name => Includes(name).Prepend(name))
            .Distinct(StringComparer.Ordinal);

    private const string Head = """
        # Templates

        Written by a test from the code; `PROTOCOLKIT_REWRITE_TEMPLATES=1 dotnet test tests/ProtocolKit.Emit.Tests --filter Template` writes it anew.

        A folder `templates` beside a protocol stands in for templates of the same name: copy one from here and change it. Templates are
        Scriban's. Each sees the variables listed under it and nothing else; every text is escaped on its way out, so a template
        needs no escaping and can't switch it off. A name that isn't listed is an error that names template and line. A page must keep the
        duties it shows: who gives a sheet to the room answers for what was taken out.

        """;

    private static void Table(StringBuilder text, Type view, List<Type> views)
    {
        text.Append("\n| variable | is | what it holds |\n| --- | --- | --- |\n");
        foreach (var property in view.GetProperties(BindingFlags.Public | BindingFlags.Instance))
        {
            text.Append(
                $"| `{TemplateModel.SnakeCase(property.Name)}` | {Kind(property, views)} | {Remark(view, property.Name)} |\n"
            );
        }
    }

    private static string Kind(PropertyInfo property, List<Type> views)
    {
        var type = property.PropertyType;
        var may =
            new NullabilityInfoContext().Create(property).ReadState == NullabilityState.Nullable
                ? ", or missing"
                : "";
        return Kind(Nullable.GetUnderlyingType(type) ?? type, views) + may;
    }

    private static string Kind(Type type, List<Type> views)
    {
        if (type == typeof(string))
        {
            return "text";
        }

        if (type == typeof(bool))
        {
            return "true or false";
        }

        if (type == typeof(int) || type == typeof(long))
        {
            return "whole number";
        }

        if (type == typeof(Raw))
        {
            return "ready for its place";
        }

        if (type.IsEnum)
        {
            return string.Join(", ", Enum.GetNames(type).Select(n => $"`{n}`"));
        }

        if (typeof(IEnumerable).IsAssignableFrom(type) && type.IsGenericType)
        {
            return $"list: {Kind(type.GetGenericArguments()[0], views)}";
        }

        if (!views.Contains(type))
        {
            views.Add(type);
        }

        return $"[{Name(type)}](#{Name(type).ToLowerInvariant().Replace(' ', '-')})";
    }

    /// <summary><c>CardSideView</c> becomes <c>card side</c>.</summary>
    private static string Name(Type type)
    {
        var name = TemplateModel.SnakeCase(type.Name).Replace('_', ' ');
        return name.EndsWith(" view", StringComparison.Ordinal) ? name[..^5] : name;
    }

    /// <summary>What the source says of a view's parameter or of the view itself.</summary>
    private static string Remark(Type view, string of)
    {
        var source = Sources.Value.FirstOrDefault(s =>
            s.Contains($"namespace {view.Namespace};", StringComparison.Ordinal)
            && Regex.IsMatch(s, $@"record (class )?{view.Name}\b")
        );
        if (source is null)
        {
            return "";
        }

        var lines = source.Split('\n').ToList();
        var at = lines.FindIndex(l => Regex.IsMatch(l, $@"record (class )?{view.Name}\b"));
        var own = lines.FindIndex(at, l => Regex.IsMatch(l, $@"^    public .*\b{of} {{ get"));
        var comment = own > at ? Comment(lines, own, 4) : Comment(lines, at, 0);
        var wanted = own > at ? "summary" : of;
        var found =
            wanted == "summary"
                ? comment.Element("summary")
                : comment.Elements("param").FirstOrDefault(p => p.Attribute("name")?.Value == wanted);
        return found is null
            ? ""
            : Regex.Replace(Plain(found), @"\s+", " ").Trim().Replace("|", "\\|", StringComparison.Ordinal);
    }

    private static XElement Comment(List<string> lines, int at, int indent)
    {
        var from = at;
        var start = new string(' ', indent) + "///";
        while (from > 0 && lines[from - 1].StartsWith(start, StringComparison.Ordinal))
        {
            from--;
        }

        var xml = string.Join('\n', lines[from..at].Select(l => l.TrimStart()[3..]));
        return XElement.Parse($"<c>{xml}</c>");
    }

    private static string Plain(XElement element) =>
        string.Concat(
                element
                    .Nodes()
                    .Select(n =>
                        n is XElement { Name.LocalName: "c" } code ? $"`{code.Value}`"
                        : n is XElement see ? $"`{see.Attribute("cref")?.Value.Split('.')[^1]}`"
                        : n.ToString()
                    )
            )
            .Replace("&lt;", "<", StringComparison.Ordinal)
            .Replace("&amp;", "&", StringComparison.Ordinal);

    private static readonly Lazy<IReadOnlyList<string>> Sources = new(() =>
        Directory
            .EnumerateFiles(
                Path.Combine(Example.Root, "src", "ProtocolKit.Emit"),
                "*.cs",
                SearchOption.AllDirectories
            )
            .Where(f =>
                !f.Contains(
                    $"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}",
                    StringComparison.Ordinal
                )
            )
            .Order(StringComparer.Ordinal)
            .Select(f => File.ReadAllText(f).ReplaceLineEndings("\n"))
            .ToList()
    );

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..] + ".";

    [GeneratedRegex("include \"([^\"]+)\"")]
    private static partial Regex Include();
}
