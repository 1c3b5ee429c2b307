using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>How long each task stood open goes into the record: not while the page is hidden or the device sleeps.</summary>
[Collection(InTheBrowser.Name)]
public class TaskTimeTests(Browsers browsers)
{
    [BrowserFact]
    public async Task A_record_says_how_long_each_task_stood_open()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: FakeClock.Script);
        var page = desk.Page;
        await desk.NewSittingAsync();
        await page.PassAsync(300_000); // before the first task
        await desk.BeginTasksAsync();
        await page.PassAsync(9_000);
        await desk.Response("smile.rate.trial-1").Locator("[value='2']").CheckAsync();
        await page.PassAsync(3_400);
        await page.Locator("#next").ClickAsync();
        await page.PassAsync(20_000);
        await page.MoveAsync(0, 600_000); // asleep
        await HideAsync(page, "hidden");
        await page.PassAsync(90_000);
        await HideAsync(page, "visible");
        await page.PassAsync(1_300);
        await page.Locator("#previous").ClickAsync();
        await page.PassAsync(2_000);
        await desk.GoToAsync("Export");
        await page.PassAsync(50_000);
        await page.Locator("#wipe").UncheckAsync();

        Assert.Equal(
            new Dictionary<string, int> { ["smile"] = 14, ["blow"] = 21 },
            Sheets.Read(Whole(await desk.ExportAsync()), Small.Protocol).TaskSeconds
        );
        await page.Locator("#times-kept").UncheckAsync();
        Assert.DoesNotContain("task-seconds", await desk.ExportAsync(), StringComparison.Ordinal);
        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task Times_survive_a_reload_and_a_record_file_is_gone_on_with()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: FakeClock.Script);
        var page = desk.Page;
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await page.PassAsync(9_000);
        await desk.Response("smile.rate.trial-1").Locator("[value='2']").CheckAsync();
        await desk.KeptAsync();
        await desk.GoAsync(file);
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Go on") }).ClickAsync();

        // The task stands open once the sitting has been read, and not before.
        await Assertions
            .Expect(desk.Response("smile.rate.trial-1").Locator("[value='2']"))
            .ToBeCheckedAsync();
        await page.PassAsync(4_000);
        await desk.GoToAsync("Export");
        var first = await desk.ExportAsync();
        Assert.Contains("task-seconds:\n  smile: 13\n", first, StringComparison.Ordinal);

        await desk.GoToAsync("Sittings");
        await desk.TakeInAsync(first);
        await desk.GoToAsync("Tasks");
        await page.PassAsync(2_000);
        await desk.GoToAsync("Export");
        Assert.Contains("task-seconds:\n  smile: 15\n", await desk.ExportAsync(), StringComparison.Ordinal);
        Assert.Empty(desk.Errors);
    }

    /// <summary>What is still open was not tried, so that the record can be read.</summary>
    private static string Whole(string yaml)
    {
        var lines = Small
            .Protocol.Program.Answers.Where(a => !a.IsHelp)
            .Where(a => !yaml.Contains($"  {a.Key}: ", StringComparison.Ordinal))
            .Where(a => a.Key != "smile.rate.trial-2") // the first was full
            .Select(a => $"  {a.Key}: out-of-time\n");
        return yaml.Replace("answers:\n", "answers:\n" + string.Concat(lines), StringComparison.Ordinal);
    }

    private static Task HideAsync(IPage page, string state) =>
        page.EvaluateAsync(
            """
            (state) => {
              Object.defineProperty(document, "visibilityState", { value: state, configurable: true });
              document.dispatchEvent(new Event("visibilitychange"));
            }
            """,
            state
        );
}
