using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>A paper sheet is entered twice; the differences are listed and settled one by one.</summary>
[Collection(InTheBrowser.Name)]
public class SecondEntryTests(Browsers browsers)
{
    [BrowserFact]
    public async Task The_second_entry_is_made_without_sight_of_the_first_and_what_differs_is_settled()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();
        await desk.Response("smile.rate.trial-2").Locator("[value='2']").CheckAsync();
        await desk.GoToAsync("Second entry from paper");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Begin the second entry" }).ClickAsync();

        await Assertions.Expect(desk.Page.Locator("#screen input:checked")).ToHaveCountAsync(0);
        await Assertions.Expect(desk.Response("smile.rate.trial-2")).ToBeHiddenAsync();
        await Assertions
            .Expect(desk.Page.GetByText("The first entry stays out of sight."))
            .ToBeVisibleAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='0']").CheckAsync();
        await desk.Response("smile.rate.trial-2").Locator("[value='2']").CheckAsync();
        await desk.GoToAsync("Second entry from paper");

        await Assertions.Expect(desk.Page.Locator("[data-difference]")).ToHaveCountAsync(1);
        await Assertions.Expect(desk.Page.Locator("[data-difference]")).ToContainTextAsync("First: 1");
        await desk.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Second: 0") }).ClickAsync();
        await Assertions.Expect(desk.Page.GetByText("Both entries agree.")).ToBeVisibleAsync();
        await desk.GoToAsync("Export");
        var text = await desk.ExportAsync();
        Assert.Contains("smile.rate.trial-1: 0\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain(
            "second",
            text.Replace("task-seconds:", "", StringComparison.Ordinal),
            StringComparison.Ordinal
        );
        Assert.Empty(desk.Errors);
    }
}
