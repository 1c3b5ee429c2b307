using ProtocolKit.Language;

namespace ProtocolKit.Workspace.Files;

/// <summary>Translations stand beside the protocol: <c>our-screen.de.translation</c> beside <c>our-screen.protocol</c>.</summary>
public static class TranslationFiles
{
    private const string Ending = ".translation";

    /// <exception cref="FileProblemException">There is none; the message says which there are.</exception>
    public static SourceText Find(string protocolPath, string language)
    {
        var stem = Path.GetFileNameWithoutExtension(protocolPath);
        var name = $"{stem}.{language}{Ending}";
        var folder = Path.GetDirectoryName(Path.GetFullPath(protocolPath)) ?? ".";
        var languages = Languages(protocolPath);
        if (!languages.Contains(language))
        {
            throw new FileProblemException(
                $"There is no translation {name} beside the protocol. "
                    + (
                        languages.Count == 0
                            ? "There are none."
                            : $"There are translations into: {string.Join(", ", languages)}."
                    )
            );
        }

        return new SourceText(name, TextFile.Read(Path.Combine(folder, name)));
    }

    /// <summary>Languages of the translations beside a protocol, in order.</summary>
    public static IReadOnlyList<string> Languages(string protocolPath)
    {
        var stem = Path.GetFileNameWithoutExtension(protocolPath) + ".";
        var folder = Path.GetDirectoryName(Path.GetFullPath(protocolPath)) ?? ".";
        return !Directory.Exists(folder)
            ? []
            :
            [
                .. Directory
                    .EnumerateFiles(folder, "*" + Ending)
                    .Select(f => Path.GetFileNameWithoutExtension(f))
                    .Where(n => n.StartsWith(stem, StringComparison.Ordinal))
                    .Select(n => n[stem.Length..])
                    .Order(StringComparer.Ordinal),
            ];
    }
}
