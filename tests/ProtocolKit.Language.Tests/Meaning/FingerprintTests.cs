using ProtocolKit.Language.Tests.Support;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Tests.Meaning;

/// <summary>Which edit of a text moves which fingerprint: each the one it belongs to, and layout none.</summary>
public sealed class FingerprintTests
{
    private const string Whole = """
        protocol tiny
          title   "Tiny"
          edition 1.0
          ages    4;0 to 5;11
          short form 10 min
        scale three, higher is better
          2 "Full." for example "one go"
          1 "Part."
          0 "None."
        material strip "Paper strip", "2"
        caution strips "A fresh strip for each child."
          for material strip
        observation shakes "trembles", qualitative
        section lips "Lips"
          text "Sit level with the child."
          task kiss "Kiss" short form
            needs  strip
            say    "Make a kiss."
            show   "Kiss once."
            go     "Your hand drops."
            practice "Once together."
            repeat "the words"
            hold   3 s
            stop when "the child turns away"
            trials up to 2, second when rate below 2, keep highest rate
            rate   three
            help   said again, started together
            tick   shakes
            note   "What moved"
          task smile "Smile", each side right, left
            say    "Smile over here."
            rate   three
          task run "Run"
            say    "Go fast."
            count  steps 0 to 60, spans intervals, plausible 1 to 50
            time   length in s, step 0.1, 0.5 to 15
        measure pace "Pace" in steps/s, step 0.1
          = run.steps / run.length
          hand timing within 0.3 s
        score lips-total "Lips"
          add up (kiss, smile.right, smile.left)
        score weaker "Weaker"
          = least(smile.left, smile.right)
        cut-offs lips-total
          ages           look-again  as-expected
          4;0 to 4;11    0 to 3      4 to 6
          5;0 to 5;11    0 to 4      5 to 6
          basis provisional "awaiting the pilot"
        actions
          again "Screen again" within 12 weeks
            when lips-total is look-again
          complete "Finish" within 4 weeks, finish
            when any band is undecided
          no-action "No action"
            when no other action applies
        claim "a child without lips is seen again"
          when lips-total = 0 then actions include again
        re-test lips-total
          error 1.6 "invented", n 40, after 10 to 14 weeks
        letter caregiver
          "Seen on {seen}."
        consents
          consent exam "I agree."

        """;

    [Theory]
    [InlineData("Make a kiss.", "Make kissing lips.")]
    [InlineData("Kiss once.", "Kiss twice.")]
    [InlineData("\"Paper strip\"", "\"Foil strip\"")]
    [InlineData("1 \"Part.\"", "1 \"Half.\"")]
    [InlineData("for example \"one go\"", "for example \"at once\"")]
    [InlineData("steps 0 to 60", "steps 0 to 70")]
    [InlineData("spans intervals", "spans onsets")]
    [InlineData("\"trembles\"", "\"shakes\"")]
    [InlineData("    tick   shakes\n", "")]
    public void Words_demonstrations_materials_and_levels_move_the_form(string old, string edited) =>
        Assert.Equal("form", Moved(old, edited));

    [Theory]
    [InlineData("trials up to 2, second when rate below 2, keep highest rate", "trials 2, keep last")]
    [InlineData("keep highest rate", "keep last")]
    [InlineData("said again, started together", "said again")]
    [InlineData("each side right, left", "each side left, right")]
    [InlineData("\"Kiss\" short form", "\"Kiss\"")]
    [InlineData("short form 10 min", "short form 12 min")]
    [InlineData("Your hand drops.", "Your hand rises.")]
    [InlineData("Once together.", "Twice together.")]
    [InlineData("repeat \"the words\"", "repeat \"the showing\"")]
    [InlineData("hold   3 s", "hold   5 s")]
    [InlineData("the child turns away", "it hurts")]
    [InlineData("Sit level with the child.", "Sit beside the child.")]
    [InlineData("measure pace", "giving order\n  run, smile, kiss\nmeasure pace")]
    public void Order_trials_and_help_move_the_administration(string old, string edited) =>
        Assert.Equal("administration", Moved(old, edited));

    [Theory]
    [InlineData("= least(smile.left, smile.right)", "= most(smile.left, smile.right)")]
    [InlineData("add up (kiss, smile.right, smile.left)", "add up (kiss, smile.right)")]
    [InlineData("in steps/s, step 0.1\n", "in steps/s, step 0.2\n")]
    [InlineData(
        "add up (kiss, smile.right, smile.left)",
        "add up (kiss, smile.right, smile.left)\n  untried blocks"
    )]
    [InlineData("hand timing within 0.3 s", "hand timing within 0.2 s")]
    [InlineData("4;0 to 4;11    0 to 3      4 to 6", "4;0 to 4;11    0 to 2      3 to 6")]
    [InlineData("provisional \"awaiting the pilot\"", "published \"An invented source\"")]
    [InlineData("within 12 weeks", "within 8 weeks")]
    [InlineData("when lips-total is look-again", "when lips-total < 4")]
    [InlineData("weeks, finish", "weeks")]
    [InlineData("error 1.6", "error 1.5")]
    [InlineData(
        "provisional \"awaiting the pilot\"",
        "provisional \"awaiting the pilot\"\n  worse on purpose \"why\""
    )]
    [InlineData(
        "when lips-total is look-again",
        "when lips-total is look-again\n    worse on purpose \"why\""
    )]
    public void Scores_cut_offs_and_actions_move_the_interpretation(string old, string edited) =>
        Assert.Equal("interpretation", Moved(old, edited));

    /// <summary>Half points make sums go in halves, which cut-offs read.</summary>
    [Fact]
    public void Points_of_a_level_move_the_form_and_what_reads_their_step() =>
        Assert.Equal("form interpretation", Moved("  1 \"Part.\"", "  1.5 \"Part.\""));

    [Fact]
    public void Severity_is_the_order_of_the_actions()
    {
        var again = "  again \"Screen again\" within 12 weeks\n    when lips-total is look-again\n";
        var complete = "  complete \"Finish\" within 4 weeks, finish\n    when any band is undecided\n";
        Assert.Equal("interpretation", Moved(again + complete, complete + again));
    }

    /// <summary>What a section's sum rests on changes with its tasks, though its words don't.</summary>
    [Fact]
    public void A_new_task_in_a_sum_moves_all_three()
    {
        var text = Whole.Replace(
            "add up (kiss, smile.right, smile.left)",
            "add up rate of every task in lips",
            StringComparison.Ordinal
        );
        var more = text.Replace(
            "  task run \"Run\"",
            "  task open \"Open\"\n    say  \"Open.\"\n    rate three\n  task run \"Run\"",
            StringComparison.Ordinal
        );
        Assert.Equal("form administration interpretation", Moved(Of(text), Of(more)));
    }

    [Theory]
    [InlineData("edition 1.0", "edition 1.1, \"A slip was mended.\"\n  earlier edition 1.0, \"First.\"")]
    [InlineData("\"Kiss\" short form", "\"Kissing\" short form")]
    [InlineData("title   \"Tiny\"", "title   \"Tiny screen\"\n  purpose \"Finds.\"")]
    [InlineData("A fresh strip", "A new strip")]
    [InlineData("plausible 1 to 50", "plausible 2 to 40")]
    [InlineData("\"What moved\"", "\"What else moved\"")]
    [InlineData("\"Screen again\"", "\"See again\"")]
    [InlineData("a child without lips", "each child without lips")]
    [InlineData("Seen on {seen}.", "You were seen on {seen}.")]
    [InlineData("\"I agree.\"", "\"We agree.\"")]
    [InlineData("= least(smile.left, smile.right)", "=   least(smile.left,   smile.right)  # the weaker")]
    [InlineData("measure pace", "\n# Rates\nmeasure pace")]
    public void Titles_layout_and_comments_move_none(string old, string edited) =>
        Assert.Equal("", Moved(old, edited));

    [Fact]
    public void Rules_of_the_same_kind_may_change_places()
    {
        var pace = Between("measure pace", "score lips-total");
        var weaker = Between("score weaker", "cut-offs lips-total");
        var swapped = Whole
            .Replace(pace, "", StringComparison.Ordinal)
            .Replace(weaker, weaker + pace, StringComparison.Ordinal);
        Assert.Equal("", Moved(Of(Whole), Of(swapped)));
    }

    [Fact]
    public void A_module_instead_of_one_file_moves_none()
    {
        var vocabulary = Between("scale three", "section lips");
        var split = Whole.Replace(vocabulary, "use words\n", StringComparison.Ordinal);
        var compilation = Compilation.Of(
            new SourceText("tiny.protocol", split),
            new Modules(
                new Dictionary<string, string>
                {
                    ["words"] = "module words\n  title \"Words\"\n" + vocabulary,
                }
            )
        );
        Assert.Equal(Of(Whole), compilation.Protocol!.Fingerprints);
    }

    [Fact]
    public void The_layout_program_moves_none()
    {
        var formatted = Language.Formatting.Formatter.Format(
            new SourceText(
                "tiny.protocol",
                Whole.Replace("    say    ", "    say ", StringComparison.Ordinal)
            )
        );
        Assert.Equal(Of(Whole), Of(formatted));
    }

    /// <summary>
    /// Every part of the model stands in one fingerprint, or in none on purpose. A new part fails here until it is decided
    /// where it belongs, and written there.
    /// </summary>
    [Fact]
    public void Every_part_of_a_protocol_is_sorted()
    {
        var sorted = new Dictionary<string, string>
        {
            ["form"] = "Name Language Tasks Scales Observations Materials",
            ["administration"] = "Tasks Sections ShortFormMinutes HasShortForm History Events",
            ["interpretation"] = "Ages CorrectedUntil Outcomes CutOffs Actions ReTests Program",
            ["none"] =
                "Title Edition EditionNotes Translations Translated Sitting Purpose Examiner References Cautions Bands "
                + "Claims Readiness Texts History Consents Fingerprints",
        };
        var known = sorted.Values.SelectMany(v => v.Split(' ')).ToHashSet();
        Assert.Equal([], typeof(Protocol).GetProperties().Select(p => p.Name).Except(known));
    }

    private static string Moved(string old, string edited)
    {
        Assert.Contains(old, Whole, StringComparison.Ordinal);
        return Moved(Of(Whole), Of(Whole.Replace(old, edited, StringComparison.Ordinal)));
    }

    private static string Moved(Fingerprints a, Fingerprints b) =>
        string.Join(
            ' ',
            new[]
            {
                (a.Form != b.Form, "form"),
                (a.Administration != b.Administration, "administration"),
                (a.Interpretation != b.Interpretation, "interpretation"),
            }
                .Where(m => m.Item1)
                .Select(m => m.Item2)
        );

    private static Fingerprints Of(string text) => Tiny.Protocol(text).Fingerprints;

    private static string Between(string from, string to) =>
        Whole[Whole.IndexOf(from, StringComparison.Ordinal)..Whole.IndexOf(to, StringComparison.Ordinal)];
}
