using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>Stopwatches act on the press, and show what passed, also where the device slept or a clock was set.</summary>
[Collection(InTheBrowser.Name)]
public class TimerTests(Browsers browsers)
{
    private const int TwentyMinutes = 20 * 60 * 1000;

    [BrowserTheory]
    [InlineData(0, 0, "7.3", "7.3")]
    [InlineData(TwentyMinutes, TwentyMinutes, "20:07.3", "")]
    [InlineData(0, TwentyMinutes, "20:07.3", "")]
    [InlineData(0, -3_600_000, "7.3", "7.3")]
    public async Task The_time_is_right_whatever_the_clocks_do_meanwhile(
        int mono,
        int wall,
        string shown,
        string recorded
    )
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: FakeClock.Script);
        var page = desk.Page;
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await page.Locator("#next").ClickAsync();
        var watch = page.Locator("[data-run='blow.run.trial-1']");

        await watch.Locator("button").ClickAsync();
        await page.PassAsync(3_100);
        await Assertions.Expect(watch.Locator("output")).ToHaveTextAsync("3.1");
        await page.MoveAsync(mono, wall);
        await page.PassAsync(4_200);
        await Assertions.Expect(watch.Locator("output")).ToHaveTextAsync(shown);
        await watch.Locator("button").ClickAsync();
        await page.PassAsync(60_000);

        await Assertions.Expect(watch.Locator("output")).ToHaveTextAsync(shown);
        await Assertions
            .Expect(desk.Response("blow.run.trial-1").Locator("input.number"))
            .ToHaveValueAsync(recorded);
        var slept = wall - mono > 1000;
        Assert.Equal(slept, (await watch.Locator(".hint").TextContentAsync())!.Contains("slept"));
        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task The_watch_starts_and_stops_when_the_button_goes_down_not_when_it_comes_up()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: FakeClock.Script);
        var page = desk.Page;
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await page.Locator("#next").ClickAsync();
        var watch = page.Locator("[data-run='blow.run.trial-1']");
        await watch.Locator("button").HoverAsync();

        await page.Mouse.DownAsync();
        await page.PassAsync(900);
        await page.Mouse.UpAsync();
        await page.PassAsync(1_100);
        await page.Mouse.DownAsync();
        await page.PassAsync(5_000);
        await page.Mouse.UpAsync();

        await Assertions.Expect(watch.Locator("output")).ToHaveTextAsync("2.0");
    }

    [BrowserFact]
    public async Task A_watch_runs_on_while_another_task_is_looked_at()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: FakeClock.Script);
        var page = desk.Page;
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await page.Locator("#next").ClickAsync();
        await page.Locator("[data-run='blow.run.trial-1'] button").ClickAsync();
        await page.Locator("#next").ClickAsync();
        await page.PassAsync(2_500);
        await page.Locator("#previous").ClickAsync();
        await page.PassAsync(500);
        await page.Locator("[data-run='blow.run.trial-1'] button").ClickAsync();

        await Assertions
            .Expect(desk.Response("blow.run.trial-1").Locator("input.number"))
            .ToHaveValueAsync("3");
    }

    [BrowserFact]
    public async Task Every_tap_is_kept_with_its_interval_and_can_be_taken_out_alone()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: FakeClock.Script);
        var page = desk.Page;
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await page.Locator("#next").ClickAsync();
        await page.Locator("#next").ClickAsync();
        var taps = page.Locator("[data-run='pa.syllables']");
        foreach (var ms in new[] { 0, 300, 250, 40, 310 })
        {
            await page.PassAsync(ms);
            await taps.Locator("button.tap").ClickAsync();
        }

        var number = desk.Response("pa.syllables").Locator("input.number");
        await Assertions.Expect(number).ToHaveValueAsync("5");
        await taps.Locator("summary").ClickAsync();
        await Assertions
            .Expect(taps.Locator(".gap"))
            .ToHaveTextAsync(["first", "+0.30 s", "+0.25 s", "+0.04 s", "+0.31 s"]);

        await page.GetByRole(AriaRole.Button, new() { Name = "Remove tap 4" }).ClickAsync();
        await Assertions.Expect(number).ToHaveValueAsync("4");
        await Assertions
            .Expect(taps.Locator(".gap"))
            .ToHaveTextAsync(["first", "+0.30 s", "+0.25 s", "+0.35 s"]);
        await page.Locator("#undo").ClickAsync();
        await Assertions.Expect(number).ToHaveValueAsync("5");
        await page.Locator("#redo").ClickAsync();

        await desk.GoToAsync("Export");
        Assert.Contains(
            "# taps of pa.syllables, milliseconds after the first: 0 300 550 900\n",
            await desk.ExportAsync(),
            StringComparison.Ordinal
        );
    }

    [BrowserFact]
    public async Task A_count_of_intervals_is_one_less_than_its_taps()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Page.Locator("#next").ClickAsync();
        await desk.Page.Locator("#next").ClickAsync();
        await desk.Page.Locator("#next").ClickAsync();
        for (var i = 0; i < 4; i++)
        {
            await desk.Page.Locator("[data-run='swaps.swaps'] button.tap").ClickAsync();
        }

        await Assertions.Expect(desk.Response("swaps.swaps").Locator("input.number")).ToHaveValueAsync("3");
    }
}
