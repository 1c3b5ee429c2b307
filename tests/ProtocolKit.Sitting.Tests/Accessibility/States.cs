using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests.Accessibility;

/// <summary>A walk through every state of the example's page.</summary>
internal static class States
{
    public static async Task WalkAsync(Desk desk, Func<string, Task> look)
    {
        var page = desk.Page;
        await look("start");
        await desk.TakeInAsync("nothing");
        await look("a refused file");
        await desk.NewSittingAsync(51);
        await look("before");
        await desk.BeginTasksAsync();
        await look("a choice");
        await TurnToAsync(desk, "Jaw to the side");
        await desk.Response("jaw-slide.rate.right.trial-1").Locator("[value='1']").CheckAsync();
        await look("two sides");
        await TurnToAsync(desk, "Tongue tip to the nose");
        await page.GetByLabel("Help used", new() { Exact = true })
            .SelectOptionAsync(new SelectOptionValue { Index = 2 });
        await page.Locator(".back summary").ClickAsync();
        await look("help, and the back of the card");
        await TurnToAsync(desk, "Pa, again and again");
        await page.Locator("[data-run='pa-run.duration.trial-1'] .timer").ClickAsync();
        await page.Locator("[data-run='pa-run.syllables.trial-1'] .tap").ClickAsync();
        await page.Locator("[data-run='pa-run.syllables.trial-1'] summary").ClickAsync();
        await desk.Response("pa-run.duration.trial-1").Locator("input").FillAsync("99");
        await look("a running watch, taps, a number out of bounds");
        await page.Locator("#list").ClickAsync();
        await look("the list of tasks");
        await page.Locator("#list").ClickAsync();
        await TurnToAsync(desk, "One point or two");
        await look("touching the mouth");
        await page.Locator("#stop").ClickAsync();
        await look("stopped");
        await page.Locator("dialog input[type=radio]").First.CheckAsync();
        await look("stopped, what happened");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on with what is not stopped" }).ClickAsync();
        await desk.GoToAsync("End the sitting");
        await look("the end, much open");
        await page.Locator(".mark-all select").SelectOptionAsync("refused");
        await page.GetByRole(AriaRole.Button, new() { Name = "Mark them" }).ClickAsync();
        await look("the end, something missing");
        await desk.GoToAsync("What was changed");
        await look("the log");
        await desk.GoToAsync("Second entry from paper");
        await page.GetByRole(AriaRole.Button, new() { Name = "Begin the second entry" }).ClickAsync();
        await desk.Response("quiet-face.choice").Locator("[value='even']").CheckAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare" }).ClickAsync();
        await look("differences");
        await ShowScoresAsync(desk);
        await look("no scores yet");
        await desk.GoToAsync("Sittings");
        await look("start, a sitting kept");
        await desk.TakeInAsync(Sheets.OfLibrary("qc-0417.yaml"));
        await ShowScoresAsync(desk);
        await look("scores");
        await desk.GoToAsync("Export");
        await look("export");
        await desk.ExportAsync();
        await look("exported");
    }

    public static async Task TurnToAsync(Desk desk, string title)
    {
        await desk.Page.Locator("#list").ClickAsync();
        await desk.Page.Locator(".task-link", new() { HasText = title }).First.ClickAsync();
        if (await desk.Page.Locator("#tasks").IsVisibleAsync())
        {
            await desk.Page.Locator("#list").ClickAsync();
        }
    }

    private static async Task ShowScoresAsync(Desk desk)
    {
        await desk.GoToAsync("End the sitting");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();
    }
}
