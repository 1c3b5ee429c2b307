using ProtocolKit.Language.Tests.Support;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Tests.Meaning;

/// <summary>Letters, notes and passages: who may read what, and what stands in for what is missing.</summary>
public sealed class ReportTextTests
{
    private const string Texts = """
        task kiss item(three)
        score k "K" = 1 * kiss
        passage thanks caregiver
          "Thank you for coming."
        passage doubts team-only
          "The second rater was unsure."
          "Ask {examiner otherwise the clinic}."
        letter caregiver
          "Seen on {seen}. {thanks}"
        note team
          "Case {case}."
          "{doubts}"
          team-only "Scores: {scores in words otherwise none}."

        """;

    [Fact]
    public void A_passage_alone_brings_its_paragraphs_and_their_readers()
    {
        var note = Tiny.Protocol(Texts).Texts.Single(t => t.Kind == ReportKind.Note);
        Assert.Equal(
            [Audience.Team, Audience.TeamOnly, Audience.TeamOnly, Audience.TeamOnly],
            note.Parts.Select(p => p.Audience)
        );
        Assert.Equal(new TextPart(true, "examiner", "the clinic"), note.Parts[2].Parts[1]);
    }

    [Fact]
    public void A_passage_inside_a_paragraph_brings_its_words()
    {
        var letter = Tiny.Protocol(Texts).Texts.Single(t => t.Kind == ReportKind.Letter);
        Assert.Equal(
            ["Seen on ", "seen", ". ", "Thank you for coming."],
            Assert.Single(letter.Parts).Parts.Select(p => p.Text)
        );
    }

    /// <summary>Whatever way is tried, nothing for the team reaches a letter.</summary>
    [Theory]
    [InlineData("letter team\n  \"x\"\n")]
    [InlineData("letter team-only\n  \"x\"\n")]
    [InlineData("letter caregiver\n  team \"x\"\n")]
    [InlineData("letter caregiver\n  team-only \"x\"\n")]
    [InlineData("letter caregiver\n  \"{doubts}\"\n")]
    [InlineData("letter caregiver\n  \"Also: {doubts}\"\n")]
    [InlineData(
        "passage mixed caregiver\n  \"Good.\"\n  team-only \"Bad.\"\nletter caregiver\n  \"{mixed}\"\n"
    )]
    public void Nothing_for_the_team_reaches_a_letter(string more) =>
        Assert.Equal(["PK5060"], Tiny.Errors(Texts + more));

    [Theory]
    [InlineData("passage p caregiver\n  \"{scores in words}\"\n")]
    [InlineData("letter caregiver\n  \"{scores in words otherwise none}\"\n")]
    public void No_score_reaches_a_letter_by_any_way(string more) =>
        Assert.Equal(["PK5006"], Tiny.Errors(Texts + more));

    [Fact]
    public void Editions_corrected_ages_and_readiness_reach_the_model()
    {
        var protocol = Tiny.Protocol(
            """
            protocol tiny
              title   "Tiny"
              edition 1.1, "Shorter words."
              earlier edition 1.0, "The first."
              ages    1;0 to 5;11
              ages corrected for prematurity until 2;0
              spoken  en
              translations de, tr
            scale three, higher is better
              2 "Full."
              1 "Part."
              0 "None."
            task kiss
              rate three
            score k "K" = 1 * kiss
            cut-offs k
              ages          low  high
              1;0 to 5;11   0    1 to 2
              basis provisional "invented"
            readiness "A new examiner rates alone after this"
              records 10
              same rate in 85 percent
              within 1 of k in 90 percent
              same band of k in 92 percent
              same headline in 95 percent
              again after 12 months
            re-test k
              error 0.8 "invented", n 40, interval 0.6 to 1.1, after 10 to 14 weeks
            """
        );
        Assert.Equal([new("1.1", "Shorter words."), new("1.0", "The first.")], protocol.EditionNotes);
        Assert.Equal(new Age(24), protocol.CorrectedUntil);
        Assert.Equal(["de", "tr"], protocol.Translations);
        Assert.Equal(
            [
                new(ReadinessKind.SameAnswer, "rate", 0, 85),
                new(ReadinessKind.CloseValue, "k", 1, 90),
                new(ReadinessKind.SameBand, "k", 0, 92),
                new(ReadinessKind.SameHeadline, "", 0, 95),
            ],
            protocol.Readiness!.Checks
        );
        Assert.Equal((10, 12), (protocol.Readiness.Records, protocol.Readiness.AgainAfter!.Value));
        var reTest = Assert.Single(protocol.ReTests);
        Assert.Equal((new Rational(6, 10), new Rational(11, 10)), reTest.Interval!.Value);
        Assert.Equal(new Wait(10, 14, WaitUnit.Weeks), reTest.Between);
    }

    /// <summary>An earlier program and a later file: one message, and nothing about words it can't know.</summary>
    [Theory]
    [InlineData("language 2\nprotocol tiny\nnovelty \"x\"\n")]
    [InlineData("# a comment first\n\nlanguage 17\n\tprotocol\t“tiny”\n")]
    public void A_later_file_is_called_one_and_nothing_else(string text)
    {
        var compilation = Tiny.Raw(text);
        Assert.Equal("PK4018", Assert.Single(compilation.Diagnostics).Code);
    }

    [Fact]
    public void A_file_that_names_version_1_means_what_it_means_without()
    {
        var text = Tiny.Whole("task kiss item(three)\nscore k \"K\" = 1 * kiss\n");
        Assert.Equal(Tiny.Protocol(text).Fingerprints, Tiny.Protocol("language 1\n" + text).Fingerprints);
    }
}
