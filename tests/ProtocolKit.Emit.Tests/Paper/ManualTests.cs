using System.Text.RegularExpressions;
using ProtocolKit.Emit.Manual;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Printing;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Tokens;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>The examiner manual holds the whole protocol, its contents lead to the right pages, and readers for the blind can read it.</summary>
public class ManualTests
{
    private static readonly Protocol Protocol = Tests.Example.Protocol;
    private static readonly string Html = Render(OutputOptions.Default);

    [Fact]
    public void Every_task_stands_in_it_with_all_it_is_given_by()
    {
        foreach (var task in Protocol.Tasks)
        {
            var at = Html.IndexOf($"id=\"task-{task.Number}\"", StringComparison.Ordinal);
            Assert.True(at > 0, task.Name);
            var block = Html[at..Html.IndexOf("</article>", at, StringComparison.Ordinal)];
            var texts = task
                .Variants.SelectMany(v => v.Say.Concat(v.Show))
                .Concat(task.Ticks.Select(t => t.Observation.Text))
                .Concat(task.StopWhen)
                .Concat(task.HelpRungs().Select(h => h.Text))
                .Concat(task.Responses.SelectMany(r => r.Scale?.Levels.Select(l => l.Text) ?? []))
                .Append(task.Title);
            Assert.All(texts, t => Assert.Contains(HtmlContext.Escape(t), block, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Every_value_action_caution_material_and_question_that_gates_stands_in_it()
    {
        var texts = Protocol
            .Outcomes.Select(o => o.Title)
            .Concat(Protocol.Actions.Select(a => a.Title))
            .Concat(Protocol.Cautions.Select(c => c.Text))
            .Concat(Protocol.Materials.Select(m => m.Text))
            .Concat(Protocol.EditionNotes.Select(n => n.Text))
            .Concat(Protocol.Consents.Select(c => c.Text))
            .Append(Protocol.Examiner!)
            .Append(Protocol.Purpose!);
        Assert.All(texts, t => Assert.Contains(HtmlContext.Escape(t), Html, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_cut_off_table_stands_in_it_with_its_basis_and_says_provisional_where_it_is()
    {
        var tables = Regex
            .Matches(Html, "(?s)<section class=\"cut-off\">.*?</section>")
            .Select(m => m.Value)
            .ToList();
        Assert.Equal(Protocol.CutOffs.Count, tables.Count);
        Assert.All(
            Protocol.CutOffs.Zip(tables),
            t =>
                Assert.Contains(
                    $"<b>Provisional.</b> No basis yet: {HtmlContext.Escape(t.First.Basis.Text)}",
                    t.Second,
                    StringComparison.Ordinal
                )
        );
        var basis = new Basis(
            BasisKind.Pilot,
            "Own pilot of a year",
            180,
            41,
            ["reference an assessment in full", "blind yes", "2025-01 to 2025-11", "interval 0.7 to 0.9"]
        )
        {
            IsProvisional = false,
        };
        var known = Protocol with { CutOffs = [Protocol.CutOffs[0] with { Basis = basis }] };
        var html = new ExaminerManual().Render(known, OutputOptions.Default, TemplateSource.BuiltIn)[0].Text;
        Assert.Contains(
            "Own pilot: Own pilot of a year (n 180); cases 41; reference an assessment in full; blind yes; 2025-01 to 2025-11; interval 0.7 to 0.9",
            html,
            StringComparison.Ordinal
        );
        Assert.DoesNotContain("<b>Provisional.</b>", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Proofs_are_printed_as_they_are_and_their_absence_is_said()
    {
        Assert.Contains(
            "<b>Not proved.</b> Nothing was proved for this print.",
            Html,
            StringComparison.Ordinal
        );
        var report = new ProofReport
        {
            Findings = [],
            Proved =
            [
                new(ProofTopic.Claims, "the claim “it holds”"),
                new(ProofTopic.Bands, "the cut-offs of jaw"),
            ],
            NotProved = ["the claim “too large”: too many sheets"],
            Sets = [],
            Records = new(1234, 5678),
        };
        foreach (
            var page in new ExaminerManual().Render(
                Protocol,
                new() { Proof = report },
                TemplateSource.BuiltIn
            )
        )
        {
            Assert.Contains("<td>The claim “it holds”.</td>", page.Text, StringComparison.Ordinal);
            Assert.Contains(
                "<td>The claim “too large”: too many sheets.</td>",
                page.Text,
                StringComparison.Ordinal
            );
            Assert.Contains("<dd>1234</dd>", page.Text, StringComparison.Ordinal);
            Assert.DoesNotContain("Nothing was proved", page.Text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Contents_name_every_heading_of_their_level_in_its_order()
    {
        var listed = Regex
            .Matches(Html, "<a href=\"#([^\"]+)\">([^<]+)</a>")
            .Select(m => (m.Groups[1].Value, m.Groups[2].Value));
        var headings = Regex
            .Matches(Html, "<h[23][^>]* id=\"([^\"]+)\">([^<]+)</h[23]>")
            .Select(m => (m.Groups[1].Value, m.Groups[2].Value));
        Assert.Equal(headings, listed);
    }

    [BrowserFact]
    public void Contents_give_the_page_on_which_each_heading_stands()
    {
        var folder = Directory.CreateTempSubdirectory("protocolkit-tests-");
        try
        {
            var built = Builder.Build(
                Tests.Example.File,
                [new ExaminerManual()],
                OutputOptions.Default,
                folder.FullName,
                true
            );
            Assert.Empty(built.Remarks);
            using var pdf = PdfDocument.Open(Path.Combine(folder.FullName, "manual.pdf"));
            var pages = pdf.GetPages()
                .Select(p => string.Join(' ', p.GetWords().Select(w => w.Text)))
                .ToList();
            var html = File.ReadAllText(Path.Combine(folder.FullName, "manual.html"));
            var entries = Regex.Matches(
                html,
                "<li class=\"level-1\"><a href=\"#[^\"]+\">([^<]+)</a>.*?<span class=\"page-number\">(\\d+)</span>"
            );
            Assert.True(entries.Count >= 14);
            foreach (
                var (title, number) in entries.Select(m =>
                    (
                        m.Groups[1].Value,
                        int.Parse(m.Groups[2].Value, System.Globalization.CultureInfo.InvariantCulture)
                    )
                )
            )
            {
                Assert.Contains(title, pages[number - 1], StringComparison.Ordinal);
                Assert.Contains(
                    $"Page {number} of {pages.Count}",
                    pages[number - 1],
                    StringComparison.Ordinal
                );
            }

            AssertAccessible(pdf, "en");
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [BrowserFact]
    public async Task Every_page_for_reading_has_tags_a_language_and_an_outline()
    {
        using var folder = new PrintingFolder();
        var pages = Outputs
            .All.Where(o => o.Kind is "record-sheet" or "cue-cards" or "case-history" or "manual")
            .SelectMany(o =>
                o.Render(
                    SampleProtocol.Full with
                    {
                        Language = "de",
                    },
                    OutputOptions.Default,
                    TemplateSource.BuiltIn
                )
            );
        foreach (var page in pages)
        {
            using var pdf = PdfDocument.Open(await folder.PdfAsync(page.Text));
            AssertAccessible(pdf, "de");
        }
    }

    private static void AssertAccessible(PdfDocument pdf, string language)
    {
        var catalog = pdf.Structure.Catalog.CatalogDictionary;
        Assert.True(catalog.ContainsKey(NameToken.StructTreeRoot), "no tags");
        Assert.True(
            catalog.TryGet(
                NameToken.Create("MarkInfo"),
                pdf.Structure.TokenScanner,
                out DictionaryToken? marked
            )
        );
        Assert.Equal(BooleanToken.True, marked!.Data["Marked"]);
        Assert.True(
            catalog.TryGet(NameToken.Create("Lang"), pdf.Structure.TokenScanner, out StringToken? lang)
        );
        Assert.Equal(language, lang!.Data);
        Assert.True(pdf.TryGetBookmarks(out var bookmarks) && bookmarks.GetNodes().Any(), "no outline");
    }

    private static string Render(OutputOptions options) =>
        new ExaminerManual().Render(Protocol, options, TemplateSource.BuiltIn)[0].Text;
}
