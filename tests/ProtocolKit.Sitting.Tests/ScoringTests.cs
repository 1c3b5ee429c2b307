using Microsoft.Playwright;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Sitting.Tests.Support;
using ProtocolKit.Testing;

namespace ProtocolKit.Sitting.Tests;

/// <summary>What the page shows as scores is what the reference says, to the digit, for records of every kind.</summary>
[Collection(InTheBrowser.Name)]
public class ScoringTests(Browsers browsers)
{
    [BrowserFact]
    public async Task What_keeps_a_sitting_from_being_scored_is_told_by_the_tasks_titles()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "New sitting" }).ClickAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='2']").CheckAsync();
        await desk.GoToAsync("End the sitting");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();
        var text = await desk.Page.Locator("#screen").InnerTextAsync();
        Assert.Contains("answers are still open: Blow; Pa, again and again;", text, StringComparison.Ordinal);
        Assert.Contains("The age is missing.", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Smile", text, StringComparison.Ordinal);
        Assert.DoesNotContain("blow.run", text, StringComparison.Ordinal);
        Assert.DoesNotContain("ageMonths", text, StringComparison.Ordinal);
    }

    [BrowserFact]
    public Task The_example_scores_as_the_reference_does() => CompareAsync(PageFile.Quillmere, 12);

    [BrowserFact]
    public Task Start_points_stops_skips_and_gates_are_followed() => CompareAsync(Routed.Protocol, 40);

    /// <summary>Worked by hand: without help 0, with it 2 less its cost 1; kiss and the rest are at their lowest or out.</summary>
    [BrowserFact]
    public async Task What_help_brought_counts_less_its_cost()
    {
        using var file = new PageFile(Routed.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        var text = Sheets.Write(Routed.Protocol, Records.Flawless(Routed.Protocol), 1);
        await desk.TakeInAsync(
            text.Replace(
                    "  smile.rate.trial-1: 2\n",
                    "  smile.rate.trial-1: 1\n  smile.rate.trial-2: 1\n",
                    StringComparison.Ordinal
                )
                .Replace("  edge.rate: 2\n", "", StringComparison.Ordinal)
        );
        await desk.BeginTasksAsync();
        await desk.Page.Locator("#list").ClickAsync();
        await desk
            .Page.Locator(".task-link", new() { HasText = "edge" })
            .Or(desk.Page.Locator(".task-link", new() { HasText = "Edge" }))
            .First.ClickAsync();
        await desk.Response("edge.rate").Locator("[value='0']").CheckAsync();
        await desk.Page.GetByLabel("Help used", new() { Exact = true }).SelectOptionAsync("started together");
        await desk.GoToAsync("End the sitting");
        await Assertions
            .Expect(desk.Page.Locator("#screen"))
            .ToContainTextAsync("help was given, but not what came of it");
        await desk.GoToAsync("Tasks");
        await desk.Page.Locator(".help [value='2']").CheckAsync();
        await desk.GoToAsync("End the sitting");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();
        var shown = await Results.OnPageAsync(desk.Page);
        await desk.GoToAsync("Export");
        var scored = Scorer.Score(Routed.Protocol, Sheets.Read(await desk.ExportAsync(), Routed.Protocol));

        Assert.Equal(Results.OfReference(scored, new HashSet<string>()), shown);
        Assert.Contains("tongue-total|0|5|5|", shown);
    }

    [BrowserFact]
    public async Task The_page_says_what_a_score_must_never_be_without()
    {
        using var file = new PageFile(PageFile.Quillmere);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.TakeInAsync(Sheets.OfLibrary("qc-0417.yaml"));
        await desk.GoToAsync("End the sitting");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();

        var text = await desk.Page.Locator("#screen").InnerTextAsync();
        Assert.Contains("A screen makes no diagnosis", text, StringComparison.Ordinal);
        Assert.Contains("licensed clinician come first", text, StringComparison.Ordinal);
        Assert.Contains("Finish the untried parts, within 4 weeks", text, StringComparison.Ordinal);
        Assert.Contains("between 19 and 31", text, StringComparison.Ordinal);
        Assert.Contains("Where on the tongue, Child’s right: refused", text, StringComparison.Ordinal);
        var banded = desk.Page.Locator("[data-band] .band");
        Assert.All(
            await banded.AllInnerTextsAsync(),
            b => Assert.Contains("provisional cut-offs", b, StringComparison.Ordinal)
        );
    }

    private async Task CompareAsync(Protocol protocol, int count)
    {
        using var file = new PageFile(protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        var number = 0;
        foreach (var fields in Records.Random(protocol, count, 20261126))
        {
            var text = Sheets.Write(protocol, fields, ++number);
            await desk.TakeInAsync(text);
            await desk.GoToAsync("End the sitting");
            await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();
            var shown = await Results.OnPageAsync(desk.Page);
            var names = shown.Select(l => l.Split('|')[0]).ToHashSet(StringComparer.Ordinal);
            var scored = Scorer.Score(protocol, Sheets.Read(text, protocol));
            Assert.Equal(Results.OfReference(scored, names), shown);
            Assert.NotEmpty(shown);
            await desk.GoToAsync("Sittings");
        }

        Assert.Empty(desk.Errors);
    }
}
