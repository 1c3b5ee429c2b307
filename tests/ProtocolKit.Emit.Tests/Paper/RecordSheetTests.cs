using System.Text.RegularExpressions;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Tests.Paper;

public partial class RecordSheetTests
{
    private static readonly Protocol Sample = SampleProtocol.Full;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Every_answer_and_observation_has_its_boxes(bool shortForm)
    {
        var html = Sheet(new() { ShortForm = shortForm });
        var program = Sample.Program;
        var answers = program.Answers.Where(a => !shortForm || a.Task.ShortForm).Select(a => a.Key);
        var observations = program.Observations.Where(o => !shortForm || o.Task.ShortForm).Select(o => o.Key);

        Assert.Equal(
            answers.Order(StringComparer.Ordinal),
            Keys(html, "data-answer").Order(StringComparer.Ordinal)
        );
        Assert.Equal(
            observations.Order(StringComparer.Ordinal),
            Keys(html, "data-observation").Order(StringComparer.Ordinal)
        );
        foreach (
            var block in html.Split("data-answer=").Skip(1).Concat(html.Split("data-observation=").Skip(1))
        )
        {
            Assert.Contains("class=\"box\"", block[..Math.Min(block.Length, 600)], StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_number_has_a_box_for_each_digit_and_a_point_where_its_step_needs_one()
    {
        var html = Sheet();
        var run = Answer(html, "pa-run.run.trial-1");
        Assert.Equal(3, Boxes(run));
        Assert.Contains("class=\"point\"", run, StringComparison.Ordinal);
        Assert.Matches("(?s)>run<.*>s<", run);
        var count = Answer(html, "pa-run.syllables.trial-3");
        Assert.Equal(2, Boxes(count));
        Assert.Contains(
            "Syllables, counting the intervals: 0 to 60. Run in s: 0.5 to 15.",
            Task(html, "pa-run"),
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Levels_stand_in_every_rated_task_and_the_rungs_of_help_with_it()
    {
        var task = Task(Sheet(), "tip-corner");
        Assert.Contains(
            "<b>1</b> Part of the way, or drifts, or another part helps.",
            task,
            StringComparison.Ordinal
        );
        Assert.Contains("<b>3</b> guided once by a hand (touches the face)", task, StringComparison.Ordinal);
        Assert.All(
            UntriedCodes.All,
            c => Assert.Contains($"<span>{c.Letter}</span>", task, StringComparison.Ordinal)
        );
    }

    [Fact]
    public void The_childs_right_stands_first_whatever_the_order_of_giving()
    {
        var task = Task(Sheet(), "tip-corner");
        Assert.Matches("(?s)<h4>Child’s right</h4>.*<h4>Child’s left</h4>", task);
        Assert.Contains("Child’s left first.", task, StringComparison.Ordinal);
        var direction = Answer(Sheet(), "quiet-face.direction");
        Assert.Matches("(?s)>right<.*>middle<.*>left<", direction);
    }

    [Fact]
    public void In_the_room_nothing_tells_what_a_value_means()
    {
        var html = Sheet(new() { RecordCode = "QC-0417" });
        var room = html[html.IndexOf("<body", StringComparison.Ordinal)..];
        var apart = Totals(new() { RecordCode = "QC-0417" });
        foreach (
            var word in new[]
            {
                "CUT-OFF-BASIS",
                "Look further",
                "Look again",
                "As expected",
                "ACTION-",
                "rovisional",
                "Birth",
                "Child’s name",
            }
        )
        {
            Assert.DoesNotContain(word, room, StringComparison.Ordinal);
        }

        Assert.Contains("CUT-OFF-BASIS-FULL", apart, StringComparison.Ordinal);
        Assert.Contains("Provisional.", apart, StringComparison.Ordinal);
        Assert.Contains("ACTION-FULL", apart, StringComparison.Ordinal);
        Assert.DoesNotContain("Child’s name", apart, StringComparison.Ordinal);
    }

    [Fact]
    public void Cards_and_case_history_hold_no_cut_offs_either()
    {
        foreach (var output in Outputs.All.Where(o => o.Kind is "cue-cards" or "case-history"))
        {
            foreach (var page in output.Render(Sample, OutputOptions.Default, TemplateSource.BuiltIn))
            {
                Assert.DoesNotContain("CUT-OFF-BASIS", page.Text, StringComparison.Ordinal);
                Assert.DoesNotContain("Look further", page.Text, StringComparison.Ordinal);
                Assert.DoesNotContain("ACTION-", page.Text, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public void The_short_form_holds_its_own_tasks_and_cut_offs()
    {
        var html = Totals(new() { ShortForm = true });
        var sheet = Sheet(new() { ShortForm = true });
        Assert.Equal(Sample.Tasks.Where(t => t.ShortForm).Select(t => t.Name), Keys(sheet, "data-task"));
        Assert.Contains("CUT-OFF-BASIS-SHORT", html, StringComparison.Ordinal);
        Assert.DoesNotContain("CUT-OFF-BASIS-FULL", html, StringComparison.Ordinal);
    }

    [Fact]
    public void An_age_leaves_only_the_rows_that_concern_it()
    {
        var html = Totals(new() { Age = new Age(63) });
        Assert.Contains("For a child aged 5;3", Sheet(new() { Age = new Age(63) }), StringComparison.Ordinal);
        Assert.Contains("4;0 to 5;11", html, StringComparison.Ordinal);
        Assert.DoesNotContain("6;0 to 11;11", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Paper_hand_and_code_are_those_asked_for()
    {
        var html = Sheet(
            new()
            {
                Paper = PaperSize.Letter,
                LeftHanded = true,
                RecordCode = "QC-0417",
            }
        );
        Assert.Contains("size: letter;", html, StringComparison.Ordinal);
        Assert.Contains("<body class=\"left-handed\">", html, StringComparison.Ordinal);
        Assert.Contains("Record code: QC-0417", html, StringComparison.Ordinal);
        Assert.Contains("size: A4;", Sheet(), StringComparison.Ordinal);
    }

    [Fact]
    public void Contact_begins_with_a_line_that_asks_for_agreement_in_the_authors_words()
    {
        var html = Sheet();
        var banner = html[html.IndexOf("From here: touches the face", StringComparison.Ordinal)..];
        Assert.StartsWith(
            "From here: touches the face.</b> Ask before every single touch and wait for a yes.",
            banner,
            StringComparison.Ordinal
        );
        Assert.Contains("From here: touches the mouth", html, StringComparison.Ordinal);
    }

    [Fact]
    public void The_duties_of_a_sheet_are_on_it_once()
    {
        var html = Sheet();
        var first = html[..html.IndexOf("data-task=", StringComparison.Ordinal)];
        foreach (var duty in Duties.All)
        {
            var text = HtmlContext.Escape(duty.In(Sample));
            Assert.Equal(2, first.Split(text).Length);
        }
    }

    [Fact]
    public void A_task_taller_than_a_page_is_refused_and_told_what_to_shorten()
    {
        var task = SampleProtocol.Task(7, "endless", "Endless") with
        {
            Responses = [SampleProtocol.Rate()],
            Ticks = Enumerable
                .Range(1, 40)
                .Select(i => SampleProtocol.Seen($"tick-{i}", "something to see"))
                .ToList(),
        };
        var refusal = Assert.Throws<OutputRefusedException>(() =>
            new RecordSheet().Render(SampleProtocol.Of([task]), OutputOptions.Default, TemplateSource.BuiltIn)
        );
        Assert.Contains("Task 7 \"Endless\"", refusal.Message, StringComparison.Ordinal);
        Assert.Contains("shorten its ticks", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_title_of_ten_thousand_characters_is_printed_whole_or_refused_by_name()
    {
        var words = string.Join(' ', Enumerable.Repeat("endless", 1250));
        Assert.Contains(
            words,
            Sheet(OutputOptions.Default, Sample with { Title = words }),
            StringComparison.Ordinal
        );
        var task = SampleProtocol.Task(1, "long", words);
        var refusal = Assert.Throws<OutputRefusedException>(() =>
            Sheet(OutputOptions.Default, SampleProtocol.Of([task]))
        );
        Assert.Contains("shorten its title", refusal.Message, StringComparison.Ordinal);
        Assert.True(refusal.Message.Length < 400);
    }

    [Fact]
    public void The_same_protocol_gives_the_same_bytes()
    {
        foreach (var output in Outputs.All)
        {
            var first = output.Render(Sample, OutputOptions.Default, TemplateSource.BuiltIn);
            var second = output.Render(Sample, OutputOptions.Default, TemplateSource.BuiltIn);
            Assert.Equal(
                first.Select(a => a with { Bytes = null, Contents = [] }),
                second.Select(a => a with { Bytes = null, Contents = [] })
            );
            Assert.Equal(first.Select(a => a.Bytes), second.Select(a => a.Bytes));
            Assert.All(first, a => Assert.DoesNotContain('\r', a.Text));
        }
    }

    [Fact]
    public void A_teams_own_template_stands_in_for_ours()
    {
        var own = TemplateSource.Overriding(
            new Dictionary<string, string>
            {
                ["record-sheet/closing.html"] = "<p>OWN {{ title }} {{ codes[0].letter }}</p>",
            }
        );
        var html = new RecordSheet().Render(Sample, OutputOptions.Default, own)[0].Text;
        Assert.Contains("<p>OWN Sample of every task R</p>", html, StringComparison.Ordinal);
        Assert.DoesNotContain("End of the sitting", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Lines_and_letters_are_never_thinner_or_smaller_than_the_least_and_nothing_has_a_colour()
    {
        var style = Sheet();
        style = style[
            style.IndexOf("<style>", StringComparison.Ordinal)..style.IndexOf(
                "</style>",
                StringComparison.Ordinal
            )
        ];
        Assert.All(Matches(BorderWidth(), style), w => Assert.True(w >= 0.75, $"a line of {w} pt"));
        Assert.All(Matches(FontSize(), style), s => Assert.True(s >= 11, $"letters of {s} pt"));
        Assert.All(Colour().Matches(style), m => Assert.Contains(m.Value, new[] { "#000", "#fff" }));
        Assert.NotEmpty(Matches(BorderWidth(), style));
        Assert.NotEmpty(Matches(FontSize(), style));
    }

    private static string Sheet() => Sheet(OutputOptions.Default, Sample);

    private static string Sheet(OutputOptions options) => Sheet(options, Sample);

    private static string Sheet(OutputOptions options, Protocol protocol) =>
        new RecordSheet().Render(protocol, options, TemplateSource.BuiltIn)[0].Text;

    private static string Totals(OutputOptions options) =>
        new RecordSheet().Render(Sample, options, TemplateSource.BuiltIn)[1].Text;

    private static List<string> Keys(string html, string attribute) =>
        Regex.Matches(html, attribute + "=\"([^\"]*)\"").Select(m => m.Groups[1].Value).ToList();

    private static string Task(string html, string name)
    {
        var start = html.IndexOf($"data-task=\"{name}\"", StringComparison.Ordinal);
        return html[start..html.IndexOf("</article>", start, StringComparison.Ordinal)];
    }

    private static string Answer(string html, string key)
    {
        var start = html.IndexOf($"data-answer=\"{key}\"", StringComparison.Ordinal);
        return html[start..html.IndexOf("</div>", start, StringComparison.Ordinal)];
    }

    private static int Boxes(string html) => html.Split("class=\"box\"").Length - 1;

    private static List<double> Matches(Regex pattern, string text) =>
        pattern
            .Matches(text)
            .Select(m => double.Parse(m.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture))
            .ToList();

    [GeneratedRegex(@"border[a-z-]*:\s*([\d.]+)pt")]
    private static partial Regex BorderWidth();

    [GeneratedRegex(@"font(?:-size)?:\s*([\d.]+)pt")]
    private static partial Regex FontSize();

    [GeneratedRegex("#[0-9a-fA-F]{3,8}")]
    private static partial Regex Colour();
}
