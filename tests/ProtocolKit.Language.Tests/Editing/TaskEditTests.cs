using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Editing;

/// <summary>
/// A task edited so that rules see another one: other limits, options or help, no answer any more, or nothing that can be read. It
/// is compiled by itself, and what comes out is what the whole text compiles to.
/// </summary>
public sealed class TaskEditTests
{
    private const string Text = """
        scale movement, higher is better
          1 "Full."
          0 "None."
        observation overflow "neck joins in"
        caution touch "Ask first."
          for contact face, mouth
        family posture(part)
          contact face
          say     "Move your {part}."
          rate    movement
        section mouth "Mouth"
          task open "Open wide"
            contact mouth
            say     "Open."
            trials  2, keep highest rate
            rate    movement
            help    said again, shown
            tick    overflow
          task close "Close" posture("jaw")
          task alike "Both alike" each side right, left
            say     "Move it."
            choice  look
              same    "Both move alike."
              differs "One moves less."
          task run "Run"
            say     "Say it."
            trials  2, keep highest rate-of-run
            count   taps 0 to 60, spans intervals
            time    lasting in s, step 0.1, 0.5 to 15
          measure rate-of-run in taps/s, step 0.1
            = run.taps / run.lasting
        score mouth-total "Mouth"
          add up  rate of every task in mouth
          claim range 0 to 2
        score differing "Differing"
          = if alike.look.right is differs then 1 otherwise 0
        cut-offs rate-of-run
          ages           slow      usual
          4;0 to 11;11   0 to 2.9  3 to 120
          basis provisional "awaiting the pilot"
        cut-offs mouth-total
          ages           slow      usual
          4;0 to 11;11   0 to 1    2
          basis pilot "our pilot", n 400, cases 30
        actions
          look "Look again" within 2 weeks
            when any band is slow
            when differing = 1
            when alike.look.left is differs
            when open.overflow is seen
          done "No action"
            when no other action applies
        """;

    [Theory]
    [InlineData("shown", "shown once")]
    [InlineData("contact mouth", "contact face")]
    [InlineData("contact mouth", "contact moth")]
    [InlineData("      same ", "      even ")]
    [InlineData("      differs ", "      differ ")]
    [InlineData("taps 0 to 60", "taps 0 to 61")]
    [InlineData("taps 0 to 60", "taps 1 to 60")]
    [InlineData("step 0.1, 0.5", "step 0.5, 0.5")]
    [InlineData("taps 0 to 60, spans intervals", "taps 0 to 60")]
    [InlineData("    count   taps", "    count   tups")]
    [InlineData("    count   taps", "    cont    taps")]
    [InlineData("keep highest rate\n", "keep highest rat\n")]
    [InlineData("keep highest rate\n", "kep highest rate\n")]
    [InlineData("keep highest rate\n", "keep lowest rate\n")]
    [InlineData("keep highest rate-of-run", "keep lowest rate-of-run")]
    [InlineData("keep highest rate-of-run", "keep highest rate-of-ran")]
    [InlineData("    rate    movement\n    help", "    rate    movment\n    help")]
    [InlineData("posture(\"jaw\")", "postre(\"jaw\")")]
    [InlineData("task run \"Run\"", "task run \"Run")]
    [InlineData("task run \"Run\"", "task r)un \"Run\"")]
    [InlineData("task close \"Close\" posture", "task close; \"Close\" posture")]
    [InlineData("each side right, left", "each side right, lef")]
    [InlineData("each side right, left", "each sid right, left")]
    [InlineData("    tick    overflow", "   )tick    overflow")]
    [InlineData("  measure rate", "  measurerate")]
    [InlineData("  measure rate", "  mea<sure rate")]
    [InlineData("  measure rate", "  measure =rate")]
    [InlineData("measure rate-of-run", "measure rat'e-of-run")]
    [InlineData("score mouth-total", "score 'mouth-total")]
    [InlineData("score mouth-total", "score mouth=total")]
    [InlineData("score differing", "scoredifferent")]
    [InlineData("task close", "task open")]
    [InlineData("task run", "task close")]
    [InlineData("  task close", " task close")]
    [InlineData("  task close", "   task close")]
    [InlineData("  task close", "x task close")]
    [InlineData("  task close", "  t<sk close")]
    [InlineData("  task close", "  taskclose")]
    [InlineData("  task close", "  ask close")]
    [InlineData("    say     \"Open", "b   say     \"Open")]
    [InlineData("    say     \"Open", "  b say     \"Open")]
    [InlineData("    say     \"Open", " b  say     \"Open")]
    [InlineData("    say     \"Open", "   say     \"Open")]
    [InlineData("    say     \"Open", "     say     \"Open")]
    [InlineData("    say     \"Open", "    \nsay     \"Open")]
    [InlineData("    say     \"Open.", "    say     \"O\npen.")]
    [InlineData("cut-offs rate-of-run", "cut-o>ffs rate-of-run")]
    [InlineData("cut-offs rate-of-run", "cut-offs :rate-of-run")]
    [InlineData("cut-offs rate-of-run", "ct-offs, rate-of-run")]
    [InlineData("  measure rate", " measure rate")]
    [InlineData("  task run \"Run\"", "  task r'un \"Run\"")]
    [InlineData("    say     \"Say it.\"", "   xsay     \"Say it.\"")]
    [InlineData("    say     \"Say it.\"", "\t   say     \"Say it.\"")]
    [InlineData("slow      usual\n  4;0 to 11;11   0 to 2.9", "slo       usual\n  4;0 to 11;11   0 to 2.9")]
    [InlineData("slow      usual\n  4;0 to 11;11   0 to 2.9", "usual     slow\n  4;0 to 11;11   0 to 2.9")]
    [InlineData("slow      usual\n  4;0 to 11;11   0 to 2.9", "sl)w      usual\n  4;0 to 11;11   0 to 2.9")]
    public void An_edited_part_of_a_task_or_table_is_compiled_by_itself(string old, string anew)
    {
        var modules = new Modules(new Dictionary<string, string>());
        var whole = Tiny.Whole(Text, "4;0 to 11;11");
        Assert.Contains(old, whole, StringComparison.Ordinal);
        var cache = new CompilationCache(modules);
        Assert.NotNull(cache.Compile(new SourceText("edited.protocol", whole)).Protocol);
        var edited = whole.Replace(old, anew, StringComparison.Ordinal);
        EditedTexts.Same(cache, edited, modules);
        Assert.Equal(1, cache.Reused);

        // The edit after it stands on what was made of this one.
        EditedTexts.Same(cache, edited.Replace("shown", "shown slowly", StringComparison.Ordinal), modules);
        EditedTexts.Same(cache, edited.Replace("0 to 60", "0 to 70", StringComparison.Ordinal), modules);
        EditedTexts.Same(cache, whole, modules);
    }

    [Theory]
    [InlineData("cut-offs opened", "cut-offs opend")]
    [InlineData("= open.rate", "= open.rat")]
    [InlineData("task open \"A\"", "task opn \"A\"")]
    [InlineData("task open \"A\"", "task open; \"A\"")]
    [InlineData("trials  2, keep highest rate", "trials  2, keep highest rat")]
    [InlineData("trials  2, keep highest rate", "trial   2, keep highest rate")]
    [InlineData("section mouth", "section moth")]
    public void What_was_found_of_another_task_is_told_beside_a_mistake(string old, string anew)
    {
        var modules = new Modules(new Dictionary<string, string>());
        var whole = Tiny.Whole(
            """
            scale movement, higher is better
              1 "Full."
              0 "None."
            section mouth "Mouth"
              task open "A"
                say     "Open."
                trials  2, keep highest rate
                rate    movement
              task idle "Idle"
                say     "Wait."
            score opened "Opened"
              = open.rate
            score mouth-total "Mouth"
              add up  rate of every task in mouth
            cut-offs opened
              ages           slow      usual
              4;0 to 11;11   0         1
              basis pilot "our pilot", n 400, cases 30
            """,
            "4;0 to 11;11"
        );
        var cache = new CompilationCache(modules);
        var compiled = cache.Compile(new SourceText("edited.protocol", whole));
        Assert.NotNull(compiled.Protocol);
        Assert.Contains(compiled.Diagnostics, d => d.Code == "PK5007");
        var edited = whole.Replace(old, anew, StringComparison.Ordinal);
        Assert.NotEqual(whole, edited);
        EditedTexts.Same(cache, edited, modules);
    }
}
