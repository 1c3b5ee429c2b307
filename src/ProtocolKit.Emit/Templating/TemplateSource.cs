using System.Collections.Concurrent;
using Scriban;

namespace ProtocolKit.Emit.Templating;

/// <summary>
/// Templates by name, such as <c>record-sheet/page.html</c>: the ones built in, or texts that stand in
/// for them. Each is read, checked and kept once.
/// </summary>
public sealed class TemplateSource
{
    private static readonly ConcurrentDictionary<string, Lazy<Template>> BuiltInTemplates = new(
        StringComparer.Ordinal
    );
    private readonly ConcurrentDictionary<string, Lazy<Template>> _own = new(StringComparer.Ordinal);
    private readonly IReadOnlyDictionary<string, string> _texts;

    private TemplateSource(IReadOnlyDictionary<string, string> texts) => _texts = texts;

    /// <summary>The templates that come with the toolkit.</summary>
    public static TemplateSource BuiltIn { get; } = new(new Dictionary<string, string>());

    /// <summary>The names of all built-in templates, sorted.</summary>
    public static IReadOnlyList<string> BuiltInNames { get; } =
        typeof(TemplateSource).Assembly.GetManifestResourceNames().Order(StringComparer.Ordinal).ToList();

    /// <summary>Built-in templates, except where <paramref name="texts"/> has one of the same name.</summary>
    /// <param name="texts">Template texts by name; a name no built-in template has may serve includes.</param>
    public static TemplateSource Overriding(IReadOnlyDictionary<string, string> texts) => new(texts);

    /// <summary>The text of a template as it was written.</summary>
    /// <exception cref="TemplateFaultException">There is none of this name.</exception>
    public string TextOf(string name) => _texts.TryGetValue(name, out var text) ? text : BuiltInText(name);

    /// <exception cref="TemplateFaultException">It is missing, not well formed, or uses what it may not.</exception>
    internal Template Get(string name) =>
        _texts.TryGetValue(name, out var text)
            ? _own.GetOrAdd(name, n => new Lazy<Template>(() => Read(n, text))).Value
            : BuiltInTemplates.GetOrAdd(name, n => new Lazy<Template>(() => Read(n, BuiltInText(n)))).Value;

    private static string BuiltInText(string name)
    {
        using var stream =
            typeof(TemplateSource).Assembly.GetManifestResourceStream(name)
            ?? throw new TemplateFaultException($"There is no template named \"{name}\".");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    private static Template Read(string name, string text)
    {
        // A template edited on another system must not change the line ends of what it writes.
        var template = Template.Parse(text.ReplaceLineEndings("\n"), name);
        if (template.HasErrors)
        {
            var first = template.Messages.First(m => m.Type == Scriban.Parsing.ParserMessageType.Error);
            throw new TemplateFaultException($"{name} line {first.Span.Start.Line + 1}: {first.Message}");
        }

        TemplateRules.Check(name, template.Page!);
        return template;
    }
}
