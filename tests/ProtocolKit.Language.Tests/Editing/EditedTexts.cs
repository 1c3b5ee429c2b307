using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Editing;

/// <summary>The texts that are edited, and how an edited one is compared with the whole compiled anew.</summary>
internal static class EditedTexts
{
    public static readonly string Example = Repository
        .Read("library", "quillmere", "quillmere-screen.protocol")
        .ReplaceLineEndings("\n");

    private static readonly Dictionary<string, string> NoModules = [];

    /// <summary>The example, the samples of the reference and every case of the corpus, each with its modules.</summary>
    public static readonly IReadOnlyList<(string Text, Modules Modules)> All =
    [
        (Example, Modules.OfQuillmere),
        .. ReferencePage.Samples.Values.Select(s => (Tiny.Whole(s), new Modules(NoModules))),
        .. CorpusCase.All.Select(c => (c.Text, new Modules(c.Texts))),
    ];

    public static Compilation Same(CompilationCache cache, string text, Modules modules)
    {
        var source = new SourceText("edited.protocol", text);
        var edited = cache.Compile(source);
        var anew = Compilation.Of(source, modules);
        Assert.Equal([.. anew.Diagnostics.Select(Told)], edited.Diagnostics.Select(Told).ToArray());
        Assert.Equal(anew.Omitted, edited.Omitted);
        Assert.Equal(anew.Sources.Select(s => s.Text), edited.Sources.Select(s => s.Text));
        Assert.Null(Difference.Of(anew.Protocol, edited.Protocol));
        return edited;
    }

    /// <summary>Code, place and words; with the line shown, which comes from the source it belongs to.</summary>
    private static string Told(Diagnostic diagnostic) =>
        $"{DiagnosticText.Render(diagnostic)} {diagnostic.Place} {diagnostic.Message.Edit} {diagnostic.Message.EditAt} "
        + string.Join(
            '|',
            diagnostic.Related.Select(r => $"{r.Place} {r.Text} {r.Source.Line(r.Place.Line)}")
        );
}
