using System.Net;
using System.Text.RegularExpressions;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Emit.Tests.Paper;

namespace ProtocolKit.Emit.Tests.Duty;

/// <summary>Every duty stands on every output of its row: visible on the printed page, and gone when its template line is.</summary>
public sealed class DutyTests : IDisposable
{
    private readonly PrintingFolder _folder = new();

    public static TheoryData<string, string> Cells
    {
        get
        {
            var cells = new TheoryData<string, string>();
            foreach (var row in DutyTable.Rows)
            {
                foreach (
                    var place in DutyPlaces.All.Where(p =>
                        row.On.Contains(p.Letter, StringComparison.Ordinal)
                    )
                )
                {
                    cells.Add(row.Name, place.ToString());
                }
            }

            return cells;
        }
    }

    [Fact]
    public void The_table_is_the_designs()
    {
        // Rows by columns as the design has them; "refer today" carries the urgent signs too.
        Assert.Equal(11, DutyTable.Rows.Count);
        Assert.Equal(
            Emit.Paper.Duties.All.Order(ByName),
            DutyTable.Rows.SelectMany(r => r.Duties).Order(ByName)
        );
        // Sheet 8, cards 5, manual 11, two pages for the family 4 each, team note 5, study report 3, three pages of a worksheet 5 each.
        // The sitting page (P) is held against the same rows in a browser, in the tests of its own.
        Assert.Equal(8 + 5 + 11 + (2 * 4) + 5 + 3 + (3 * 5), Cells.Count);
    }

    [Theory]
    [MemberData(nameof(Cells))]
    public void It_is_on_the_page_names_what_it_must_and_is_gone_without_its_template_line(
        string row,
        string place
    )
    {
        var (duties, page) = (
            DutyTable.Rows.Single(r => r.Name == row),
            DutyPlaces.All.Single(p => p.ToString() == place)
        );
        var whole = Visible(page.Render(TemplateSource.BuiltIn));
        var said = string.Join(' ', duties.Duties.Select(page.Sentence));
        Assert.All(duties.Names, n => Assert.Matches(n, said));
        foreach (var duty in duties.Duties)
        {
            var sentence = page.Sentence(duty);
            Assert.Contains(sentence, whole, StringComparison.Ordinal);
            Assert.DoesNotContain(
                sentence,
                Visible(page.Render(Without(page.Lines(duty)))),
                StringComparison.Ordinal
            );
        }
    }

    [BrowserFact]
    public async Task It_can_be_read_on_the_printed_page()
    {
        foreach (var place in DutyPlaces.All)
        {
            var pages = await _folder.PrintAsync(
                new Artefact("page.html", place.Render(TemplateSource.BuiltIn))
            );
            var printed = Squeezed(string.Concat(pages.SelectMany(p => p.Letters).Select(l => l.Value)));
            foreach (
                var duty in DutyTable
                    .Rows.Where(r => r.On.Contains(place.Letter, StringComparison.Ordinal))
                    .SelectMany(r => r.Duties)
            )
            {
                Assert.True(
                    printed.Contains(Squeezed(place.Sentence(duty)), StringComparison.Ordinal),
                    $"{place}: “{place.Sentence(duty)}” is not on paper"
                );
            }
        }
    }

    [Fact]
    public void An_authors_own_caution_stands_in_for_our_sentence()
    {
        var own = new Model.Caution("screen-limits", "OUR OWN LIMITS.", [], [], Model.Origin.None);
        var protocol = SampleProtocol.Full with { Cautions = [own] };
        var html = new RecordSheet().Render(protocol, OutputOptions.Default, TemplateSource.BuiltIn)[0].Text;
        Assert.Contains("OUR OWN LIMITS.", html, StringComparison.Ordinal);
        Assert.DoesNotContain(Emit.Paper.Duties.NoDiagnosis.Text, html, StringComparison.Ordinal);
    }

    public void Dispose() => _folder.Dispose();

    private static IComparer<Emit.Paper.Duty> ByName { get; } =
        Comparer<Emit.Paper.Duty>.Create((a, b) => string.CompareOrdinal(a.Name, b.Name));

    private static TemplateSource Without(IEnumerable<(string Template, string Line)> lines) =>
        TemplateSource.Overriding(
            lines
                .GroupBy(l => l.Template)
                .ToDictionary(
                    g => g.Key,
                    g =>
                        g.Aggregate(
                            TemplateSource.BuiltIn.TextOf(g.Key),
                            (text, line) =>
                            {
                                Assert.Contains(line.Line, text, StringComparison.Ordinal);
                                return text.Replace(line.Line, "", StringComparison.Ordinal);
                            }
                        ),
                    StringComparer.Ordinal
                )
        );

    /// <summary>What a page shows: no head, no attributes, no comments.</summary>
    private static string Visible(string html) =>
        WebUtility.HtmlDecode(
            Regex.Replace(
                Regex.Replace(html[html.IndexOf("<body", StringComparison.Ordinal)..], "(?s)<!--.*?-->", ""),
                "<[^>]*>",
                ""
            )
        );

    private static string Squeezed(string text) =>
        string.Concat(text.Where(c => !char.IsWhiteSpace(c) && c != '\u00AD'));
}
