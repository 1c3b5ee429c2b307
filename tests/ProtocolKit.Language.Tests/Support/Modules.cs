using ProtocolKit.Language.Binding;

namespace ProtocolKit.Language.Tests.Support;

/// <summary>Modules held in memory.</summary>
internal sealed class Modules(IReadOnlyDictionary<string, string> texts) : IModuleSource
{
    public IEnumerable<string> Names => texts.Keys.Order(StringComparer.Ordinal);

    public SourceText? Find(string name) =>
        texts.TryGetValue(name, out var text) ? new SourceText(name + ".protocol", text) : null;

    /// <summary>Every protocol file of some folders, under its name without the ending.</summary>
    public static Modules In(params string[] folders) =>
        new(
            folders
                .SelectMany(f => Directory.EnumerateFiles(f, "*.protocol"))
                .ToDictionary(
                    f => Path.GetFileNameWithoutExtension(f),
                    File.ReadAllText,
                    StringComparer.Ordinal
                )
        );

    /// <summary>What the example protocol may use.</summary>
    public static Modules OfQuillmere { get; } =
        In(Repository.PathOf("library", "quillmere", "modules"), Repository.PathOf("library", "modules"));
}
