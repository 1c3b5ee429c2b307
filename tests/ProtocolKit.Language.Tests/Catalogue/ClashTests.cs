using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Catalogue;

/// <summary>Where two places can't both stand, both are shown: the second as the mistake, the first beside it.</summary>
public sealed class ClashTests
{
    [Theory]
    [InlineData("cut-offs-age-overlap")]
    [InlineData("cut-offs-bands-order")]
    [InlineData("cut-offs-bands-overlap")]
    [InlineData("cut-offs-twice")]
    [InlineData("event-twice")]
    [InlineData("header-line-twice")]
    [InlineData("passage-twice")]
    [InlineData("scale-level-twice")]
    [InlineData("score-two-values")]
    [InlineData("section-stop-twice")]
    [InlineData("task-line-twice")]
    [InlineData("task-name-twice")]
    public void A_clash_shows_the_first_place_too(string name)
    {
        var clash = CorpusCase.Of(name).Compile().Diagnostics.First(d => d.Related.Count > 0);
        Shows(clash);
    }

    [Theory]
    [InlineData("task a\n  choice\n    one \"One.\"\n    one \"Two.\"\n")]
    [InlineData("task a each word ball, ball\n  rate three\n")]
    [InlineData("task a\n  rate three\n  rate three\n")]
    [InlineData("giving order by contact\ngiving order by contact\n")]
    [InlineData(
        "task a item(three)\nscore t = 1 * a\nre-test t\n  error 1 \"x\"\nre-test t\n  error 2 \"x\"\n"
    )]
    [InlineData(
        "task a item(three)\nscore t = 1 * a\ntable p of t\n  raw     4;0 to 5;11\n  0 to 1  1\n  1 to 2  2\n  basis provisional \"x\"\n"
    )]
    [InlineData(
        "task a item(three)\nscore t = 1 * a\ntable p of t\n  raw     4;0 to 4;11  4;11 to 5;11\n  0 to 2  1            2\n  basis provisional \"x\"\n"
    )]
    [InlineData(
        "task a item(three)\nscore t = 1 * a\ncut-offs t\n  ages  low  low\n  4;0 to 5;11  0  1 to 2\n  basis provisional \"x\"\n"
    )]
    [InlineData("translation tiny to de\n  status unreviewed \"x\"\n  status unreviewed \"y\"\n")]
    public void So_does_one_the_corpus_has_no_case_of(string text) =>
        Shows(Tiny.Compile(text).Diagnostics.First(d => d.Related.Count > 0));

    private static void Shows(Diagnostic clash)
    {
        var first = Assert.Single(clash.Related);
        Assert.True(
            first.Source != clash.Source
                || first.Place.Line < clash.Place.Line
                || (first.Place.Line == clash.Place.Line && first.Place.Column != clash.Place.Column),
            DiagnosticText.Render(clash)
        );
        Assert.Contains(first.Text, DiagnosticText.Render(clash), StringComparison.Ordinal);
    }
}
