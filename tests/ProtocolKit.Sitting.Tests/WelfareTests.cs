using Microsoft.Playwright;
using ProtocolKit.Scoring;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>One touch stops what is open; telling what happened opens again what need not stop.</summary>
[Collection(InTheBrowser.Name)]
public class WelfareTests(Browsers browsers)
{
    [BrowserFact]
    public async Task One_touch_stops_everything_open_and_leaves_what_was_answered()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await BeginAsync(desk);
        await desk.Page.Locator("#stop").ClickAsync();
        await Assertions
            .Expect(desk.Page.GetByRole(AriaRole.Dialog))
            .ToContainTextAsync("Stop at once when the child turns away");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "End the sitting" }).ClickAsync();
        await desk.GoToAsync("Export");
        var record = RecordReader.Read(await desk.ExportAsync(), "record", file.Protocol).Record!;

        var known = record
            .Fields.Zip(file.Protocol.Program.Fields)
            .Where(f => f.Second.Name.EndsWith(".state", StringComparison.Ordinal));
        Assert.Equal(1, known.Count(f => f.First == (long)Model.State.Known));
        Assert.Equal(7, known.Count(f => f.First == (long)Model.State.Stopped));
        Assert.Empty(record.Events);
        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task A_gag_stops_what_touches_the_mouth_and_opens_the_rest_again()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await BeginAsync(desk);
        await desk.Page.Locator("#stop").ClickAsync();
        await desk.Page.GetByRole(AriaRole.Radio, new() { Name = "The child gags." }).CheckAsync();
        await desk.Page.GetByLabel("What touched, and where").FillAsync("A spoon.");
        await desk
            .Page.GetByRole(AriaRole.Button, new() { Name = "Go on with what is not stopped" })
            .ClickAsync();
        await desk.GoToAsync("End the sitting");

        await Assertions
            .Expect(desk.Page.Locator(".open-tasks button"))
            .ToHaveTextAsync(["Blow", "Pa, again and again", "Corner to corner", "Tongue to the corner"]);
        await desk.Page.GetByLabel("All of these").SelectOptionAsync("out-of-time");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Mark them" }).ClickAsync();
        await desk.GoToAsync("Export");
        var reading = RecordReader.Read(await desk.ExportAsync(), "record", file.Protocol);
        Assert.Empty(reading.Problems);
        Assert.Equal(
            [new("gag", "smile", "A spoon.", "not written down", "not written down")],
            reading.Record!.Events
        );
    }

    [BrowserFact]
    public async Task A_stop_pressed_by_mistake_is_taken_back()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await BeginAsync(desk);
        await desk.Page.Locator("#stop").ClickAsync();
        await desk.Page.GetByRole(AriaRole.Radio, new() { Name = "The child is in pain." }).CheckAsync();
        await desk
            .Page.GetByRole(AriaRole.Button, new() { Name = "Pressed by mistake: take it back" })
            .ClickAsync();
        await desk.GoToAsync("End the sitting");
        await Assertions.Expect(desk.Page.Locator(".open-tasks button")).ToHaveCountAsync(5);
        await desk.GoToAsync("Export");
        var text = await desk.ExportAsync();
        Assert.DoesNotContain("stopped", text, StringComparison.Ordinal);
        Assert.DoesNotContain("events", text, StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task Tasks_given_out_of_order_before_the_stop_keep_their_answers()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await BeginAsync(desk);
        await desk.Page.Locator("#list").ClickAsync();
        await desk.Page.Locator(".task-link").Last.ClickAsync();
        await desk.Response("swab.felt").Locator("input.number").FillAsync("3");
        await desk.Page.Locator(".task-link").First.ClickAsync();
        await desk.Page.Locator("#stop").ClickAsync();
        await desk.Page.GetByRole(AriaRole.Radio, new() { Name = "The child is in pain." }).CheckAsync();
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "End the sitting" }).ClickAsync();
        await desk.GoToAsync("Export");
        var record = Sheets.Read(await desk.ExportAsync(), Small.Protocol);
        Assert.Equal("swab", Assert.Single(record.Events).GivenBefore);
    }

    [BrowserFact]
    public async Task Two_undos_take_a_told_stop_back()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await BeginAsync(desk);
        await desk.Page.Locator("#stop").ClickAsync();
        await desk.Page.GetByRole(AriaRole.Radio, new() { Name = "The child gags." }).CheckAsync();
        await desk
            .Page.GetByRole(AriaRole.Button, new() { Name = "Go on with what is not stopped" })
            .ClickAsync();
        await desk.Page.Locator("#undo").ClickAsync();
        await desk.Page.Locator("#undo").ClickAsync();
        await desk.GoToAsync("End the sitting");
        await Assertions.Expect(desk.Page.Locator(".open-tasks button")).ToHaveCountAsync(5);
    }

    [BrowserFact]
    public async Task No_score_band_or_praise_shows_before_the_end()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await BeginAsync(desk);
        for (var i = 0; i < 6; i++)
        {
            var text = await desk.Page.Locator("body").InnerTextAsync();
            Assert.DoesNotContain("Movements", text, StringComparison.Ordinal);
            Assert.DoesNotContain("As expected", text, StringComparison.Ordinal);
            Assert.DoesNotContain("Look further", text, StringComparison.Ordinal);
            await desk.Page.Locator("#next").ClickAsync();
        }
    }

    private static async Task BeginAsync(Desk desk)
    {
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='2']").CheckAsync();
    }
}
