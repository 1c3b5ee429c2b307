using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Editing;

/// <summary>An edited text compiled by its edit is what the whole text compiles to.</summary>
public sealed class CompilationCacheTests
{
    private static readonly string Example = Repository
        .Read("library", "quillmere", "quillmere-screen.protocol")
        .ReplaceLineEndings("\n");

    /// <summary>Letters mostly; and what quotes, comments, placeholders, lines and rules are made of.</summary>
    private const string Signs = "abcdefgilmnorstu 0123456789\"#{}.,;:-=()\n\té";

    private static readonly Dictionary<string, string> NoModules = [];

    /// <summary>The example, the samples of the reference and every case of the corpus, each with its modules.</summary>
    private static readonly IReadOnlyList<(string Text, Modules Modules)> Texts =
    [
        (Example, Modules.OfQuillmere),
        .. ReferencePage.Samples.Values.Select(s => (Tiny.Whole(s), new Modules(NoModules))),
        .. CorpusCase.All.Select(c => (c.Text, new Modules(c.Texts))),
    ];

    [Theory]
    [InlineData(1, 40)]
    [InlineData(2, 40)]
    public void Random_edits_come_to_the_same_as_compiling_anew(int seed, int texts)
    {
        var random = new Random(seed);
        var (all, reused) = (0, 0);
        for (var i = 0; i < texts; i++)
        {
            // The example, which has everything in it, and one of the others, in turn.
            var (text, modules) = i % 2 == 0 ? Texts[0] : Texts[random.Next(1, Texts.Count)];
            var cache = new CompilationCache(modules);
            cache.Compile(new SourceText("edited.protocol", text));
            for (var edit = 0; edit < 8; edit++)
            {
                var edited = Edit(text, random);
                all++;

                // A mistake is taken back, mostly, as people do.
                var isGood = Same(cache, edited, modules).Protocol is not null;
                text = isGood || random.Next(4) == 0 ? edited : text;
            }

            reused += cache.Reused;
        }

        Assert.True(reused > all / 20, $"Only {reused} of {all} edits were compiled by themselves.");
    }

    [Fact]
    public void Every_place_of_a_task_can_be_edited()
    {
        const string text = """
            scale movement, higher is better
              1 "Full."
              0 "None."
            observation overflow "neck joins in", qualitative
            section mouth "Mouth"
              task open "Open wide"
                contact none
                say     "Open your mouth as wide as it goes."
                show    "Open and close it once."
                trials  2, keep highest rate
                rate    movement
                help    said again, shown in the mirror
                tick    overflow
                note    "What held it back"
              task close "Close"
                say     "Close it."
                rate    movement
            score mouth-total "Mouth"
              add up  rate of every task in mouth
            """;
        var whole = Tiny.Whole(text);
        Assert.Equal([], Tiny.Compile(text).Diagnostics.Select(DiagnosticText.Render).ToArray());
        var modules = new Modules(NoModules);
        var cache = new CompilationCache(modules);
        var first = whole.IndexOf("section mouth", StringComparison.Ordinal);
        foreach (var sign in "x\" #{2")
        {
            for (var at = first; at <= whole.Length; at++)
            {
                Same(cache, whole.Insert(at, sign.ToString()), modules);
                Same(cache, whole, modules);
            }
        }

        Assert.True(cache.Reused > 200, $"{cache.Reused} were compiled by themselves.");
    }

    [Fact]
    public void A_word_of_a_task_is_compiled_by_itself_and_a_rule_is_not()
    {
        var cache = new CompilationCache(Modules.OfQuillmere);
        cache.Compile(new SourceText("edited.protocol", Example));
        var word = Example.IndexOf("    say ", StringComparison.Ordinal);
        var quote = Example.IndexOf('"', word);
        Same(cache, Example.Insert(quote + 2, "x"), Modules.OfQuillmere);
        Assert.Equal(1, cache.Reused);
        var row = Example.IndexOf("cut-offs", StringComparison.Ordinal);
        Same(
            cache,
            Example.Insert(Example.IndexOf(" to ", row, StringComparison.Ordinal), "0"),
            Modules.OfQuillmere
        );
        Assert.Equal(1, cache.Reused);
    }

    [Fact]
    public void A_comment_is_compiled_by_itself_wherever_it_stands()
    {
        var cache = new CompilationCache(Modules.OfQuillmere);
        cache.Compile(new SourceText("edited.protocol", Example));
        var edits = 0;
        foreach (var start in (string[])["cut-offs", "actions", "scale", "    say "])
        {
            var end = Example.IndexOf('\n', Example.IndexOf(start, StringComparison.Ordinal));
            foreach (var typed in (string[])[" # a word more", "  "])
            {
                Same(cache, Example.Insert(end, typed), Modules.OfQuillmere);
                Same(cache, Example, Modules.OfQuillmere);
                edits += 2;
            }
        }

        Assert.Equal(edits, cache.Reused);
    }

    [Fact]
    public void A_module_that_changed_is_seen()
    {
        var texts = new Dictionary<string, string>
        {
            ["words"] = "module words\nscale movement, higher is better\n  1 \"Yes\"\n  0 \"No\"\n",
        };
        var text =
            Tiny.Header() + "use words\ntask one \"One\"\n  say \"Go.\"\n  rate movement, qualitative\n";
        var modules = new Modules(texts);
        var cache = new CompilationCache(modules);
        Assert.NotNull(cache.Compile(new SourceText("edited.protocol", text)).Protocol);
        texts["words"] = texts["words"].Replace("movement", "motion", StringComparison.Ordinal);
        Same(cache, text.Replace("Go.", "Go!", StringComparison.Ordinal), modules);
        Assert.Equal(0, cache.Reused);
    }

    private static string Edit(string text, Random random)
    {
        // Half of the edits in or beside a text, wherever the others may fall.
        var at = random.Next(text.Length + 1);
        at = random.Next(2) == 0 && text.IndexOf('"', at) is var quote and >= 0 ? quote + random.Next(4) : at;
        at = Math.Min(at, text.Length);
        var sign = Signs[random.Next(Signs.Length)].ToString();
        return random.Next(at == text.Length ? 2 : 0, 3) switch
        {
            0 => text.Remove(at, 1),
            1 => text.Remove(at, 1).Insert(at, sign),
            _ => text.Insert(at, sign),
        };
    }

    private static Compilation Same(CompilationCache cache, string text, Modules modules)
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
