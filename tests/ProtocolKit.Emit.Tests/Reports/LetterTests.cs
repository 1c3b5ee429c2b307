using System.Text.RegularExpressions;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Emit.Tests.Paper;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Emit.Tests.Reports;

/// <summary>The letter: one page, plain words, strengths first, and nothing in it that isn't a family's business.</summary>
public class LetterTests
{
    public static TheoryData<string> RecordNames =>
        new("qc-0417", "qc-0522", "qc-0688", "qc-0731", "qc-0859", "qc-0906");

    [Theory]
    [MemberData(nameof(RecordNames))]
    public void It_holds_no_score_no_band_no_code_and_no_word_of_failing(string record)
    {
        var scored = Example.Scored(record);
        foreach (var protocol in new[] { Example.Protocol, Example.Protocol with { Texts = [] } })
        {
            var text = Text(Page(scored with { Protocol = protocol }));
            Assert.DoesNotContain(scored.Record.Case, text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotMatch("(?i)\\bfail|\\bband\\b|\\bscores?\\b|\\bpoints\\b|disorder|delayed", text);
            Assert.All(
                protocol.Bands,
                b => Assert.DoesNotContain(b.Text, text, StringComparison.OrdinalIgnoreCase)
            );

            // Numbers are the day and the weeks of an action, nothing else.
            var numbers = Regex.Matches(text, "\\d+").Select(m => m.Value);
            var allowed = Regex.Matches(
                string.Join(' ', scored.Actions.Select(a => a.Action.Urgency))
                    + string.Join(' ', scored.Record.Seen.Select(d => $"{d.Day} {d.Year}"))
                    + " 02 01 03",
                "\\d+"
            );
            Assert.Empty(numbers.Except(allowed.Select(m => m.Value)));
        }
    }

    [Fact]
    public void Strengths_come_before_what_was_hard_untried_and_next()
    {
        var scored = Example.Scored("qc-0417");
        foreach (var protocol in new[] { Example.Protocol, Example.Protocol with { Texts = [] } })
        {
            var text = Text(Page(scored with { Protocol = protocol }));
            var places = new[]
            {
                "What went well",
                "What took more effort",
                "What we could not do",
                "What comes next",
            }
                .Select(w => text.IndexOf(w, StringComparison.Ordinal))
                .ToList();
            Assert.All(places, p => Assert.True(p > 0));
            Assert.Equal(places.Order(), places);
            Assert.Contains("What went well: slow opening; kissing lips;", text, StringComparison.Ordinal);
            // A title with a comma of its own stays one thing among others.
            Assert.Contains("; small gap, kept still; wide smile;", text, StringComparison.Ordinal);
            Assert.Contains("paper between the lips, where on the tongue", text, StringComparison.Ordinal);
            Assert.Contains("finish the untried parts, within 4 weeks", text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_name_is_in_the_letter_and_in_no_other_page()
    {
        var scored = Example.Scored("qc-0417");
        var letter = LetterPage.Render(
            Letters.Of(scored, "Ada <b>O'Hare"),
            OutputOptions.Default,
            TemplateSource.BuiltIn
        );
        Assert.Contains("Dear family of Ada &lt;b&gt;O&#39;Hare,", letter.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Ada", letter.FileName, StringComparison.Ordinal);
        Assert.DoesNotContain("Ada", Title(letter.Text), StringComparison.Ordinal);
    }

    [Fact]
    public void A_clinicians_own_decision_is_what_the_family_reads()
    {
        var scored = Example.Scored(
            "qc-0417",
            (
                "events:\n",
                "overrides:\n  - action: screen-again\n    reason: \"A cold that day.\"\n    role: speech-language pathologist\n\nevents:\n"
            )
        );
        var text = Text(Page(scored));
        Assert.Contains("What comes next: screen again, within 12 weeks.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("finish the untried", text, StringComparison.Ordinal);
        Assert.DoesNotContain("A cold that day", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_letter_longer_than_its_page_is_refused_and_told_what_to_shorten()
    {
        var long_ = new CaregiverLetter(
            Example.Protocol,
            "QC-1",
            [string.Join(' ', Enumerable.Repeat("words", 900))],
            new Dictionary<string, string>()
        );
        var refusal = Assert.Throws<OutputRefusedException>(() =>
            LetterPage.Render(long_, OutputOptions.Default, TemplateSource.BuiltIn)
        );
        Assert.Contains("begins “words words", refusal.Message, StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task A_paragraph_that_runs_from_right_to_left_begins_at_the_right()
    {
        using var folder = new PrintingFolder();
        var pages = await folder.PrintAsync(
            LetterPage.Render(
                new CaregiverLetter(
                    Example.Protocol,
                    "QC-1",
                    ["שלום למשפחה.", "Qello."],
                    new Dictionary<string, string>()
                ),
                OutputOptions.Default,
                TemplateSource.BuiltIn
            )
        );
        var letters = pages[0].Letters;
        Assert.InRange(
            letters.First(l => l.Value == "ש").StartBaseLine.X,
            pages[0].Width * 0.75,
            pages[0].Width
        );
        Assert.InRange(letters.First(l => l.Value == "Q").StartBaseLine.X, 0, pages[0].Width * 0.25);
    }

    [BrowserFact]
    public async Task It_has_one_page_on_both_papers_up_to_the_longest_that_is_not_refused()
    {
        using var folder = new PrintingFolder();
        foreach (var paper in Enum.GetValues<PaperSize>())
        {
            foreach (
                var style in new[]
                {
                    HouseStyle.Plain,
                    new HouseStyle("A clinic", ["One line", "Another"], "Call 1", HouseStyle.Black),
                }
            )
            {
                var options = new OutputOptions { Paper = paper, Style = style };
                var longest = Longest(options);
                var pages = await folder.PrintAsync(
                    LetterPage.Render(longest, options, TemplateSource.BuiltIn)
                );
                Assert.Single(pages);
            }
        }
    }

    [Fact]
    public void A_translated_letter_ends_in_its_own_language()
    {
        var text = Text(Page(Example.Scored("qc-0417") with { Protocol = Example.German }));
        Assert.Contains("Er stellt keine Diagnose.", text, StringComparison.Ordinal);
        Assert.Contains("Tag, Name und Unterschrift", text, StringComparison.Ordinal);
        Assert.DoesNotContain(CaregiverTexts.CallToday[..20], text, StringComparison.Ordinal);
    }

    /// <summary>As many paragraphs as are not refused.</summary>
    private static CaregiverLetter Longest(OutputOptions options)
    {
        var letter = new CaregiverLetter(Example.Protocol, "QC-1", [], new Dictionary<string, string>());
        while (true)
        {
            var longer = letter with
            {
                Paragraphs =
                [
                    .. letter.Paragraphs,
                    "A line of a letter that is about as long as lines of letters are, and then some.",
                ],
            };
            try
            {
                LetterPage.View(longer, options);
                letter = longer;
            }
            catch (OutputRefusedException)
            {
                return letter;
            }
        }
    }

    private static string Page(ScoredRecord scored) =>
        LetterPage.Render(Letters.Of(scored), OutputOptions.Default, TemplateSource.BuiltIn).Text;

    private static string Title(string html) => Regex.Match(html, "<title>(.*?)</title>").Groups[1].Value;

    private static string Text(string html) =>
        System.Net.WebUtility.HtmlDecode(
            Regex.Replace(html[html.IndexOf("<body", StringComparison.Ordinal)..], "<[^>]+>", " ")
        );
}
