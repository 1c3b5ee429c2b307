using ProtocolKit.Language;
using ProtocolKit.Model;
using ProtocolKit.Proof;
using ProtocolKit.Solver;
using ProtocolKit.Workspace.Files;

namespace ProtocolKit.Workspace;

/// <summary>A protocol's file with its compilation.</summary>
/// <param name="Path">As the user named it; <c>-</c> for what came from standard input.</param>
public sealed record ProtocolFile(string Path, SourceText Source, Compilation Compilation)
{
    private readonly ModuleFolders? _modules;

    /// <summary>What holds for every record; null until proved, where the text has errors, and for a translation.</summary>
    public ProofReport? Proof { get; private init; }

    /// <summary>The same file with everything proved that can be, and the findings among the others.</summary>
    public ProtocolFile Prove()
    {
        // A translation has the same program: what holds of one holds of the other.
        if (Compilation.Protocol is not { Translated: null } protocol)
        {
            return this;
        }

        var report = Prover.Prove(protocol, new ProofOptions(Sets: false) { Beyond = new CpSat() });
        return this with { Proof = report, Compilation = Compilation.WithProof(report) };
    }

    private ProtocolFile(string path, SourceText source, ModuleFolders modules)
        : this(path, source, Compilation.Of(source, modules)) => _modules = modules;

    /// <summary>Reads and compiles a file with the modules it uses.</summary>
    /// <exception cref="FileProblemException">The file itself can't be read; what is wrong in it is in the compilation.</exception>
    public static ProtocolFile Open(string path) =>
        new(
            path,
            new SourceText(System.IO.Path.GetFileName(path), TextFile.Read(path)),
            new ModuleFolders(path)
        );

    /// <summary>Compiles a text that is in no file; modules are looked for in the current folder.</summary>
    public static ProtocolFile OfInput(string text) =>
        new("-", new SourceText("standard input", text), new ModuleFolders("standard-input"));

    /// <summary>
    /// Where a text of this compilation is, from the folder in which the program runs, with forward slashes; for a module
    /// of the library that comes with the program its name alone.
    /// </summary>
    public string PathOf(SourceText source)
    {
        ArgumentNullException.ThrowIfNull(source);
        var path = ReferenceEquals(source, Source) ? Path : _modules?.PathOf(source) ?? source.Name;
        return path.Replace('\\', '/');
    }

    /// <summary>The protocol in another language, by the translation beside it; as it stands where that is its own language.</summary>
    /// <exception cref="FileProblemException">There is no translation into this language, or it can't be read.</exception>
    public ProtocolFile In(string? language)
    {
        if (language is null || language == Compilation.Protocol?.Language || Compilation.HasErrors)
        {
            return this;
        }

        var translation = TranslationFiles.Find(Path, language);
        return this with { Compilation = Compilation.Translated(translation, language) };
    }

    /// <summary>The protocol, and each translation that is stated or stands beside it, with what was found in it alone.</summary>
    /// <exception cref="FileProblemException">A translation that is stated isn't there.</exception>
    public IReadOnlyList<ProtocolFile> WithTranslations()
    {
        // A translation has the same program: what holds of one holds of the other.
        if (Compilation.Protocol is not { Translated: null } protocol)
        {
            return [this];
        }

        return
        [
            this,
            .. protocol
                .Translations.Union(TranslationFiles.Languages(Path), StringComparer.Ordinal)
                .Order(StringComparer.Ordinal)
                .Select(Checked),
        ];

        ProtocolFile Checked(string language)
        {
            var source = TranslationFiles.Find(Path, language);
            var whole = Compilation.Translated(source, language);
            var own = whole with
            {
                Diagnostics = [.. whole.Diagnostics.Skip(Compilation.Diagnostics.Count)],
                Omitted = whole.Omitted - Compilation.Omitted,
            };
            return new ProtocolFile(Path, source, own);
        }
    }
}
