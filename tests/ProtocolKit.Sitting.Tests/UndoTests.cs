using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>Everything that was entered can be undone to the start and done again, and the log forgets none of it.</summary>
[Collection(InTheBrowser.Name)]
public class UndoTests(Browsers browsers)
{
    [BrowserFact]
    public async Task A_sitting_is_undone_to_its_start_and_redone_to_its_end()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: FakeClock.Script); // no second passes
        var page = desk.Page;
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();
        await desk.Response("smile.rate.trial-2").Locator("[value='2']").CheckAsync();
        await page.GetByLabel("Help used", new() { Exact = true }).SelectOptionAsync("said again");
        await page.GetByRole(AriaRole.Radio, new() { Name = "Seen", Exact = true }).CheckAsync();
        await page.GetByLabel("Notes").PressSequentiallyAsync("tired at the end");
        await page.Locator("#next").ClickAsync();
        await desk.Response("blow.run.trial-1").Locator("input.number").FillAsync("4.5");
        await desk.Response("blow.run.trial-2").Locator("select").SelectOptionAsync("refused");
        var before = await RecordAsync(desk);

        await desk.GoToAsync("Tasks");
        var undone = 0;
        while (await page.Locator("#undo").IsEnabledAsync())
        {
            await page.Locator("#undo").ClickAsync();
            undone++;
        }

        // The age, four entries, a note typed in one go, a number and a code.
        Assert.Equal(8, undone);
        var start = await RecordAsync(desk);
        Assert.DoesNotContain("answers", start, StringComparison.Ordinal);
        Assert.DoesNotContain("age-months", start, StringComparison.Ordinal);
        Assert.DoesNotContain("notes", start, StringComparison.Ordinal);

        await desk.GoToAsync("Tasks");
        while (await page.Locator("#redo").IsEnabledAsync())
        {
            await page.Locator("#redo").ClickAsync();
        }

        Assert.Equal(before, await RecordAsync(desk));
        await desk.GoToAsync("What was changed");
        await Assertions.Expect(page.Locator(".log li", new() { HasText = "undone:" })).ToHaveCountAsync(8);
        await Assertions.Expect(page.Locator(".log li", new() { HasText = "redone:" })).ToHaveCountAsync(8);
        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task What_is_entered_after_an_undo_takes_its_place()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        var rate = desk.Response("smile.rate.trial-1");
        await rate.Locator("[value='1']").CheckAsync();
        await desk.Page.Keyboard.PressAsync("Control+z");
        await Assertions.Expect(rate.Locator("[value='1']")).Not.ToBeCheckedAsync();
        await rate.Locator("[value='0']").CheckAsync();

        await Assertions.Expect(desk.Page.Locator("#redo")).ToBeDisabledAsync();
        await Assertions.Expect(rate.Locator("[value='0']")).ToBeCheckedAsync();
    }

    /// <summary>The record's own lines, without the comments that count entries.</summary>
    private static async Task<string> RecordAsync(Desk desk)
    {
        await desk.GoToAsync("Export");
        if (await desk.Page.Locator("#wipe").IsCheckedAsync())
        {
            await desk.Page.Locator("#wipe").UncheckAsync();
        }

        var text = await desk.ExportAsync();
        return string.Join('\n', text.Split('\n').Where(l => !l.StartsWith('#')));
    }
}
