using System.Text.RegularExpressions;
using ProtocolKit.Emit.Manual;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Emit.Tests.Duty;

/// <summary>Provisional cut-offs say so wherever a band appears, and only while they are.</summary>
public class ProvisionalTests
{
    public static TheoryData<string> Pages => new("totals", "manual", "team note");

    [Theory]
    [MemberData(nameof(Pages))]
    public void Each_table_or_row_with_a_band_says_it(string page)
    {
        var (pattern, word) = page switch
        {
            "totals" => ("(?s)<article class=\"outcome.*?</article>", "<table class=\"bands\">"),
            "manual" => ("(?s)<section class=\"cut-off\">.*?</section>", "<table>"),
            _ => ("(?s)<tr><th scope=\"row\">.*?</tr>", "as expected|look again|look further"),
        };
        var provisional = Blocks(Render(page, Example.Protocol, TemplateSource.BuiltIn), pattern, word);
        Assert.True(provisional.Count >= 20, $"{provisional.Count} blocks");
        Assert.All(provisional, b => Assert.Contains("rovisional", b, StringComparison.Ordinal));
        var settled = Blocks(Render(page, Settled(), TemplateSource.BuiltIn), pattern, word);
        Assert.Equal(provisional.Count, settled.Count);
        Assert.All(settled, b => Assert.DoesNotContain("rovisional", b, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("totals", "record-sheet/totals.html", "<p class=\"basis\">")]
    [InlineData("manual", "manual/scoring.html", "<p>{{ if table.provisional }}")]
    [InlineData("team note", "team-note/note.html", "<tr><th scope=\"row\">{{ score.title }}")]
    public void It_is_gone_without_its_template_line(string page, string template, string start)
    {
        var text = TemplateSource.BuiltIn.TextOf(template);
        var line = text.Split('\n').Single(l => l.StartsWith(start, StringComparison.Ordinal));
        var without = TemplateSource.Overriding(
            new Dictionary<string, string> { [template] = text.Replace(line, "", StringComparison.Ordinal) }
        );
        var before = Count(Render(page, Example.Protocol, TemplateSource.BuiltIn));
        Assert.True(before - Count(Render(page, Example.Protocol, without)) >= 20);
    }

    private static int Count(string html) => html.Split("rovisional").Length - 1;

    private static List<string> Blocks(string html, string pattern, string word) =>
        Regex.Matches(html, pattern).Select(m => m.Value).Where(b => Regex.IsMatch(b, word)).ToList();

    private static Protocol Settled() =>
        Example.Protocol with
        {
            CutOffs = [.. Example.Protocol.CutOffs.Select(t => t with { Basis = Known })],
            Outcomes = [.. Example.Protocol.Outcomes.Select(Settled)],
        };

    private static Outcome Settled(Outcome outcome) =>
        outcome.Table is { } table ? outcome with { Table = table with { Basis = Known } } : outcome;

    private static Basis Known { get; } =
        new(BasisKind.Published, "a table that was published", null, null, []) { IsProvisional = false };

    private static string Render(string page, Protocol protocol, TemplateSource templates) =>
        page switch
        {
            "totals" => new RecordSheet().Render(protocol, OutputOptions.Default, templates)[1].Text,
            "manual" => new ExaminerManual().Render(protocol, OutputOptions.Default, templates)[0].Text,
            _ => TeamNotePage.Render(Note(protocol), OutputOptions.Default, templates).Text,
        };

    private static TeamNote Note(Protocol protocol)
    {
        var scored = Example.Scored("qc-0417");
        var known = protocol.CutOffs.ToDictionary(t => (t.Outcome.Name, t.ShortForm));
        return TeamNotes.Of(
            scored with
            {
                Protocol = protocol,
                Bands =
                [
                    .. scored.Bands.Select(b =>
                        b with
                        {
                            Table = known[(b.Table.Outcome.Name, b.Table.ShortForm)],
                        }
                    ),
                ],
            }
        );
    }
}
