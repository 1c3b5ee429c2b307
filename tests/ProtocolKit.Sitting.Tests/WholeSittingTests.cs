using Microsoft.Playwright;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>A record of the library, given again on the page by hand, comes out as it was, and scores as it did.</summary>
public class WholeSittingTests(Browsers browsers) : IClassFixture<Browsers>
{
    [BrowserFact]
    public Task A_whole_sitting_with_a_stop_is_given_by_mouse() =>
        GiveAgainAsync("qc-0417.yaml", new(), page => new Mouse(page));

    [BrowserFact]
    public Task A_whole_sitting_is_given_by_keyboard_alone() =>
        GiveAgainAsync("qc-0522.yaml", new(), page => new Keys(page));

    [BrowserFact]
    public Task A_whole_sitting_is_given_by_touch_on_a_tablet() =>
        GiveAgainAsync(
            "qc-0688.yaml",
            new()
            {
                HasTouch = true,
                IsMobile = true,
                ViewportSize = new() { Width = 800, Height = 1100 },
            },
            page => new Finger(page)
        );

    private async Task GiveAgainAsync(string name, BrowserNewContextOptions options, Func<IPage, Hand> hand)
    {
        var protocol = PageFile.Quillmere;
        var original = Sheets.Read(Sheets.OfLibrary(name), protocol);
        using var file = new PageFile(protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, options);
        await new Examiner(desk, hand(desk.Page), protocol, original).GiveAsync();

        await Assertions.Expect(desk.Page.Locator("h1")).ToHaveTextAsync("End the sitting");
        await Assertions
            .Expect(desk.Page.Locator("#open-title + p"))
            .ToHaveTextAsync("Every answer that is needed is there.");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();
        var shown = await Results.OnPageAsync(desk.Page);
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Export", Exact = true }).ClickAsync();
        var exported = Sheets.Read(await desk.ExportAsync(), protocol);

        Assert.Equal(original.Fields, exported.Fields);
        Assert.Equal(original.Help, exported.Help);
        Assert.Equal(original.Aided, exported.Aided);
        Assert.Equal(original.Notes, exported.Notes);
        Assert.Equal(original.Events, exported.Events);
        Assert.Equal(original.Consents, exported.Consents);
        Assert.Equal(original.History, exported.History);
        Assert.Equal(protocol.Fingerprints, exported.Fingerprints);
        var names = shown.Select(l => l.Split('|')[0]).ToHashSet(StringComparer.Ordinal);
        Assert.Equal(Results.OfReference(Scorer.Score(protocol, exported), names), shown);
        Assert.Empty(desk.Errors);
        Assert.Equal([file.Address], desk.Requests);
    }
}
