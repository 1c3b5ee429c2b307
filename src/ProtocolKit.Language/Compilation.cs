using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Editing;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Model;

namespace ProtocolKit.Language;

/// <summary>A compiled text: immutable, shared by command line and editor.</summary>
/// <param name="Protocol">Null where there are errors.</param>
/// <param name="Diagnostics">By file and place.</param>
/// <param name="Omitted">Diagnostics beyond the bound of what is kept.</param>
public sealed record Compilation(Protocol? Protocol, IReadOnlyList<Diagnostic> Diagnostics, int Omitted)
{
    /// <summary>The file and the modules it uses, in the order in which they were met.</summary>
    public IReadOnlyList<SourceText> Sources { get; init; } = [];

    public bool HasErrors =>
        Protocol is null || Diagnostics.Any(d => d.Message.Descriptor.Severity == Severity.Error);

    /// <summary>The same text with what was found out about every record, each finding at the line it concerns.</summary>
    public Compilation WithProof(ProofReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var order = Sources.Select((s, i) => (s.Name, i)).ToDictionary(s => s.Name, s => s.i);
        var found = report.Findings.Select(f => new Diagnostic(
            Sources.FirstOrDefault(s => s.Name == f.Origin.File) ?? Sources[0],
            new Place(Math.Max(1, f.Origin.Line), Math.Max(1, f.Origin.Column), f.Origin.Length),
            ProofMessages.Of(f),
            []
        ));
        return this with
        {
            Diagnostics =
            [
                .. Diagnostics
                    .Concat(found)
                    .OrderBy(d => order.GetValueOrDefault(d.Source.Name, int.MaxValue))
                    .ThenBy(d => d.Place.Line)
                    .ThenBy(d => d.Place.Column)
                    .ThenBy(d => d.Code, StringComparer.Ordinal),
            ],
        };
    }

    /// <summary>Reads a protocol with the modules it uses and checks it. Never throws on any text.</summary>
    public static Compilation Of(SourceText source, IModuleSource modules) => Of(source, modules, out _);

    /// <param name="kept">What a later compilation of a changed text can use; null where there are errors.</param>
    internal static Compilation Of(SourceText source, IModuleSource modules, out Func<KeptText>? kept)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(modules);
        var diagnostics = new DiagnosticBag();
        var loader = new ModuleLoader(modules, diagnostics);
        var units = loader.Load(source);
        var binder = units.Count == 0 ? null : new ProtocolBinder(units, loader.AllFound, diagnostics);
        var protocol = binder?.Bind();
        var compilation = new Compilation(
            diagnostics.HasErrors ? null : protocol,
            diagnostics.Sorted(),
            diagnostics.Omitted
        )
        {
            Sources =
            [
                source,
                .. units.Select(u => u.Source).Where(s => s.Name != source.Name).DistinctBy(s => s.Name),
            ],
        };
        kept = binder?.Bound is { } bound ? () => new KeptText(compilation, units, bound) : null;
        return compilation;
    }

    /// <summary>
    /// The protocol in another language: its texts in the place of the original's, other fingerprints, and cut-offs that are
    /// provisional until they are shown to hold. What was found in the original stands first.
    /// </summary>
    /// <param name="translation">The file beside the protocol.</param>
    /// <param name="language">The language asked for; null: the one the file names.</param>
    public Compilation Translated(SourceText translation, string? language = null)
    {
        ArgumentNullException.ThrowIfNull(translation);
        if (Protocol is null)
        {
            return this;
        }

        var diagnostics = new DiagnosticBag();
        var translated = SourceLines.Of(translation, diagnostics) is { } lines
            ? new TranslationBinder(
                Protocol,
                translation,
                new TranslationReader(translation, diagnostics).Read(lines),
                diagnostics
            ).Bind(language)
            : null;
        return new Compilation(
            diagnostics.HasErrors ? null : translated,
            [.. Diagnostics, .. diagnostics.Sorted()],
            Omitted + diagnostics.Omitted
        )
        {
            Sources = [.. Sources, translation],
        };
    }
}

/// <summary>A source without modules.</summary>
public sealed class NoModules : IModuleSource
{
    public IEnumerable<string> Names => [];

    public SourceText? Find(string name) => null;
}
