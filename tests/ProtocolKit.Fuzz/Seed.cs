using System.Text.RegularExpressions;
using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Fuzz;

/// <summary>A text to begin from, and the modules it may use.</summary>
/// <param name="Name">Where it comes from: a corpus case, or a page of the reference and the sample's number on it.</param>
public sealed partial record Seed(string Name, string Text, IModuleSource Modules)
{
    /// <summary>
    /// Every case of the corpus, every sample of the reference, the starter and the example with its modules, in a fixed order.
    /// </summary>
    public static IReadOnlyList<Seed> In(string repository) =>
        [.. Corpus(repository), .. Reference(repository), .. Library(repository)];

    private static IEnumerable<Seed> Corpus(string repository)
    {
        foreach (
            var folder in Directory
                .EnumerateDirectories(Path.Combine(repository, "tests", "corpus"))
                .Order(StringComparer.Ordinal)
        )
        {
            var texts = Protocols(folder);
            yield return new Seed(
                Path.GetFileName(folder),
                texts["source"],
                texts.Count > 1 ? new HeldModules(texts) : new NoModules()
            );
        }
    }

    private static IEnumerable<Seed> Reference(string repository)
    {
        var pages = Directory
            .EnumerateFiles(Path.Combine(repository, "grammar"), "*.md", SearchOption.AllDirectories)
            .Order(StringComparer.Ordinal);
        foreach (var page in pages)
        {
            var samples = Sample().Matches(File.ReadAllText(page).ReplaceLineEndings("\n"));
            for (var i = 0; i < samples.Count; i++)
            {
                var text = samples[i].Groups["body"].Value;
                yield return new Seed(
                    $"{Path.GetFileName(page)} {i + 1}",
                    Header().IsMatch(text) ? text : FragmentPrelude.Before(text, FragmentPrelude.Ages),
                    new NoModules()
                );
            }
        }
    }

    private static IEnumerable<Seed> Library(string repository)
    {
        var example = Path.Combine(repository, "library", "quillmere");
        var modules = new HeldModules(
            new[] { Path.Combine(example, "modules"), Path.Combine(repository, "library", "modules") }
                .SelectMany(Protocols)
                .ToDictionary(StringComparer.Ordinal)
        );
        return Protocols(example)
            .OrderBy(p => p.Key, StringComparer.Ordinal)
            .Select(p => new Seed(p.Key, p.Value, modules));
    }

    private static Dictionary<string, string> Protocols(string folder) =>
        Directory
            .EnumerateFiles(folder, "*.protocol")
            .Order(StringComparer.Ordinal)
            .ToDictionary(
                f => Path.GetFileNameWithoutExtension(f),
                f => File.ReadAllText(f).ReplaceLineEndings("\n"),
                StringComparer.Ordinal
            );

    [GeneratedRegex("^```protocol\n(?<body>.*?)^```$", RegexOptions.Singleline | RegexOptions.Multiline)]
    private static partial Regex Sample();

    [GeneratedRegex("^(protocol|language) ", RegexOptions.Multiline)]
    private static partial Regex Header();

    private sealed class HeldModules(IReadOnlyDictionary<string, string> texts) : IModuleSource
    {
        public IEnumerable<string> Names => texts.Keys.Order(StringComparer.Ordinal);

        public SourceText? Find(string name) =>
            texts.TryGetValue(name, out var text) ? new SourceText(name + ".protocol", text) : null;
    }
}
