using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Editing;

/// <summary>An edited text compiled by its edit is what the whole text compiles to.</summary>
public sealed class CompilationCacheTests
{
    /// <summary>Letters mostly; and what quotes, comments, placeholders, lines and rules are made of.</summary>
    private const string Signs = "abcdefgilmnorstu 0123456789\"#{}.,;:-=()\n\té";

    private static readonly Dictionary<string, string> NoModules = [];

    /// <summary>One rule of each kind, and what they read.</summary>
    private const string Rules = """
        scale movement, higher is better
          1 "Full."
          0 "None."
        section mouth "Mouth"
          task open "Open wide"
            say     "Open."
            rate    movement
        section fast "Fast"
          task pa "Pa pa pa"
            say     "Say pa until my hand drops."
            trials  2, keep highest pa-rate
            count   syllables 0 to 60, spans intervals
            time    run in s, step 0.1, 0.5 to 15
          measure pa-rate in syllables/s, step 0.1
            = pa.syllables / pa.run
        score mouth-total "Mouth"
          add up  rate of every task in mouth
        score both "Both"
          = mouth-total * 2 + open.rate
          claim range 0 to 3
        cut-offs pa-rate
          ages           slow      usual
          4;0 to 5;11    0 to 2.9  3 to 120
          6;0 to 11;11   0 to 3.4  3.5 to 120
          basis provisional "awaiting the pilot"
        cut-offs both
          ages           slow      usual
          4;0 to 11;11   0 to 1    2 to 3
          basis pilot "our pilot", n 400, cases 30
        actions
          look "Look again" within 2 weeks
            when any band is slow
          done "No action"
            when no other action applies
        claim "a child who opens isn't slow in both"
          when open.rate = 1 then both is usual
        re-test both
          error 0.5 "two raters", n 40, after 10 to 14 weeks
        readiness "Rate ten sittings"
          records 10
          same rate in 90 percent
          same band of both in 90 percent
        letter caregiver
          "{child} was seen on {seen}. {actions in words}"
        """;

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
            var (text, modules) =
                i % 2 == 0 ? EditedTexts.All[0] : EditedTexts.All[random.Next(1, EditedTexts.All.Count)];
            var cache = new CompilationCache(modules);
            cache.Compile(new SourceText("edited.protocol", text));
            for (var edit = 0; edit < 8; edit++)
            {
                var edited = Edit(text, random);
                all++;

                // A mistake is taken back, mostly, as people do.
                var isGood = EditedTexts.Same(cache, edited, modules).Protocol is not null;
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
                EditedTexts.Same(cache, whole.Insert(at, sign.ToString()), modules);
                EditedTexts.Same(cache, whole, modules);
            }
        }

        Assert.True(cache.Reused > 200, $"{cache.Reused} were compiled by themselves.");
    }

    [Fact]
    public void Every_place_of_rules_can_be_edited()
    {
        var whole = Tiny.Whole(Rules, "4;0 to 11;11");
        Assert.NotNull(Tiny.Raw(whole).Protocol);
        var modules = new Modules(NoModules);
        var cache = new CompilationCache(modules);
        cache.Compile(new SourceText("edited.protocol", whole));
        var first = whole.IndexOf("  measure", StringComparison.Ordinal);
        foreach (var sign in "x\"2")
        {
            for (var at = first; at <= whole.Length; at++)
            {
                EditedTexts.Same(cache, whole.Insert(at, sign.ToString()), modules);
                cache.Compile(new SourceText("edited.protocol", whole));
            }
        }

        for (var at = first; at < whole.Length; at++)
        {
            EditedTexts.Same(cache, whole.Remove(at, 1), modules);
            cache.Compile(new SourceText("edited.protocol", whole));
        }

        var most = 4 * (whole.Length - first);
        Assert.True(
            cache.Reused > (2 * most) - 1500,
            $"{cache.Reused} of {2 * most} were compiled by themselves, half of them taken back."
        );
    }

    [Theory]
    [InlineData("    say ", "\"", "x")]
    [InlineData("    say ", "\"", "\"")]
    [InlineData("cut-offs", " to 2.9", "0")]
    [InlineData("cut-offs", " to 2.9", "\"")]
    [InlineData("  = ", "\n", " + 1")]
    [InlineData("claim ", "\"", "x")]
    [InlineData("letter ", "\"", "x")]
    [InlineData("  title", "\"", "x")]
    public void An_edit_is_compiled_by_itself(string statement, string before, string typed)
    {
        var modules = new Modules(NoModules);
        var whole = Tiny.Whole(Rules, "4;0 to 11;11");
        var cache = new CompilationCache(modules);
        cache.Compile(new SourceText("edited.protocol", whole));
        var start = whole.IndexOf(statement, StringComparison.Ordinal);
        var at = whole.IndexOf(before, start, StringComparison.Ordinal);
        EditedTexts.Same(cache, whole.Insert(before == "\"" ? at + 2 : at, typed), modules);
        Assert.Equal(1, cache.Reused);
    }

    [Theory]
    [InlineData("\n")]
    [InlineData("\n\n# a comment\n")]
    public void A_line_put_in_moves_what_stands_below(string put)
    {
        var modules = new Modules(NoModules);
        var whole = Tiny.Whole(Rules, "4;0 to 11;11");
        var cache = new CompilationCache(modules);
        cache.Compile(new SourceText("edited.protocol", whole));
        var edits = 0;
        for (var end = 0; (end = whole.IndexOf('\n', end + 1)) >= 0; )
        {
            var moved = whole.Insert(end, put);
            EditedTexts.Same(cache, moved, modules);
            EditedTexts.Same(cache, moved.Replace("Say pa", "Say pa,", StringComparison.Ordinal), modules);
            EditedTexts.Same(cache, moved, modules);
            EditedTexts.Same(cache, moved.Replace("0 to 2.9", "0 to 2.8", StringComparison.Ordinal), modules);
            EditedTexts.Same(cache, moved.Replace("0 to 2.9", "0 to x", StringComparison.Ordinal), modules);
            EditedTexts.Same(
                cache,
                moved.Replace("  0 to 1 ", "  1 to 1 ", StringComparison.Ordinal),
                modules
            );
            EditedTexts.Same(cache, moved, modules);
            cache.Compile(new SourceText("edited.protocol", whole));
            edits += 8;
        }

        Assert.True(cache.Reused > edits * 3 / 4, $"{cache.Reused} of {edits} were compiled by themselves.");
    }

    [Fact]
    public void A_line_is_written_letter_by_letter()
    {
        var modules = new Modules(NoModules);
        var whole = Tiny.Whole(Rules, "4;0 to 11;11");
        var cache = new CompilationCache(modules);
        cache.Compile(new SourceText("edited.protocol", whole));
        var at = whole.IndexOf("    rate    movement", StringComparison.Ordinal);
        const string line = "    show    \"Open and close it once.\"\n";
        for (var length = 1; length <= line.Length; length++)
        {
            EditedTexts.Same(
                cache,
                whole.Insert(at, line[..length] + (length < line.Length ? "\n" : "")),
                modules
            );
        }

        Assert.True(cache.Reused > line.Length * 3 / 4, $"{cache.Reused} were compiled by themselves.");
    }

    [Fact]
    public void A_comment_is_compiled_by_itself_wherever_it_stands()
    {
        var cache = new CompilationCache(Modules.OfQuillmere);
        cache.Compile(new SourceText("edited.protocol", EditedTexts.Example));
        var edits = 0;
        foreach (var start in (string[])["cut-offs", "actions", "scale", "    say "])
        {
            var end = EditedTexts.Example.IndexOf(
                '\n',
                EditedTexts.Example.IndexOf(start, StringComparison.Ordinal)
            );
            foreach (var typed in (string[])[" # a word more", "  "])
            {
                EditedTexts.Same(cache, EditedTexts.Example.Insert(end, typed), Modules.OfQuillmere);
                EditedTexts.Same(cache, EditedTexts.Example, Modules.OfQuillmere);
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
        EditedTexts.Same(cache, text.Replace("Go.", "Go!", StringComparison.Ordinal), modules);
        Assert.Equal(0, cache.Reused);
    }

    private static string Edit(string text, Random random)
    {
        // Edits in or beside a text, at a number, in a formula, and wherever the others may fall.
        var at = random.Next(text.Length + 1);
        if (random.Next(5) == 0 && text.IndexOf('\n', at) is var end and >= 0)
        {
            return Lines(text, end, random);
        }

        var what = random.Next(4) switch
        {
            0 => text.IndexOf('"', at),
            1 => text.IndexOfAny([.. "0123456789"], at),
            2 => text.IndexOfAny(['=', '/', '*', '+'], at),
            _ => -1,
        };
        at = what >= 0 ? what + random.Next(4) : at;
        at = Math.Min(at, text.Length);
        var sign = Signs[random.Next(Signs.Length)].ToString();
        return random.Next(at == text.Length ? 2 : 0, 3) switch
        {
            0 => text.Remove(at, 1),
            1 => text.Remove(at, 1).Insert(at, sign),
            _ => text.Insert(at, sign),
        };
    }

    /// <summary>A line put in or taken out at the end of another.</summary>
    private static string Lines(string text, int end, Random random)
    {
        var next = text.IndexOf('\n', end + 1);
        return random.Next(4) switch
        {
            0 => text.Insert(end, "\n"),
            1 => text.Insert(end, "\n# a comment"),
            2 when next >= 0 => text.Remove(end, next - end),
            _ when next >= 0 => text.Insert(end, text[end..next]),
            _ => text.Insert(end, "\n"),
        };
    }
}
