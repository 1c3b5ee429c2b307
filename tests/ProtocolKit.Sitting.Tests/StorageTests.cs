using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>Where nothing can be kept the page says so at once and offers the way out; where tabs meet, neither overwrites.</summary>
[Collection(InTheBrowser.Name)]
public class StorageTests(Browsers browsers)
{
    private const string Absent = "Object.defineProperty(globalThis, 'indexedDB', { value: undefined });";

    private const string Forbidden =
        "IDBFactory.prototype.open = () => { throw new DOMException('no', 'SecurityError'); };";

    /// <summary>Full as soon as the test says so.</summary>
    private const string Full = """
        const add = IDBObjectStore.prototype.add;
        IDBObjectStore.prototype.add = function (value) {
          if (globalThis.isFull) { throw new DOMException("full", "QuotaExceededError"); }
          return add.call(this, value);
        };
        """;

    [BrowserTheory]
    [InlineData(Absent, "This browser has no storage for this page.")]
    [InlineData(Forbidden, "This browser forbids this page to keep anything.")]
    public async Task Without_storage_it_says_so_at_once_and_still_writes_a_whole_record(
        string script,
        string says
    )
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: script);
        await Assertions.Expect(desk.Page.GetByRole(AriaRole.Alert).First).ToContainTextAsync(says);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await Assertions.Expect(desk.Page.Locator("#kept")).ToHaveTextAsync("Not kept");
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();

        Assert.Contains("smile.rate.trial-1: 1\n", await ExportNowAsync(desk), StringComparison.Ordinal);
        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task A_full_storage_is_told_at_once_and_what_was_entered_is_kept_once_there_is_room()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file, script: Full);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.KeptAsync();
        await desk.Page.EvaluateAsync("() => { globalThis.isFull = true; }");
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();
        await Assertions
            .Expect(desk.Page.GetByRole(AriaRole.Alert).First)
            .ToContainTextAsync("The storage of this device is full.");
        Assert.Contains("smile.rate.trial-1: 1\n", await ExportNowAsync(desk), StringComparison.Ordinal);

        await desk.Page.EvaluateAsync("() => { globalThis.isFull = false; }");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Try again" }).ClickAsync();
        await desk.KeptAsync();
        await desk.GoAsync(file);
        await desk.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Go on") }).ClickAsync();
        await Assertions
            .Expect(desk.Response("smile.rate.trial-1").Locator("[value='1']"))
            .ToBeCheckedAsync();
    }

    [BrowserFact]
    public async Task Two_tabs_of_one_sitting_never_overwrite_each_other()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();
        await desk.KeptAsync();
        var second = await desk.SecondTabAsync(file);
        await second.GetByRole(AriaRole.Button, new() { NameRegex = new("^Go on") }).ClickAsync();
        await second.Locator("[data-key='smile.rate.trial-2'] [value='2']").CheckAsync();
        await Assertions.Expect(second.Locator("#kept")).ToHaveTextAsync("Kept on this device");

        // The first tab doesn't know of that yet, and enters something else in the same place.
        await desk.Response("smile.rate.trial-2").Locator("[value='0']").CheckAsync();
        await Assertions
            .Expect(desk.Page.GetByRole(AriaRole.Alert).First)
            .ToContainTextAsync("This sitting was changed in another tab");
        Assert.Contains("smile.rate.trial-2: 0\n", await ExportNowAsync(desk), StringComparison.Ordinal);
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Go on with what is kept" }).ClickAsync();
        await Assertions
            .Expect(desk.Response("smile.rate.trial-2").Locator("[value='2']"))
            .ToBeCheckedAsync();

        // From here on it is the second tab that is behind.
        await desk.Response("smile.rate.trial-1").Locator("[value='0']").CheckAsync();
        await desk.KeptAsync();
        await second.Locator("[data-key='smile.rate.trial-1'] [value='2']").CheckAsync();
        await Assertions
            .Expect(second.GetByRole(AriaRole.Alert).First)
            .ToContainTextAsync("changed in another tab");
        await desk.GoAsync(file);
        await desk.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Go on") }).ClickAsync();
        await Assertions
            .Expect(desk.Response("smile.rate.trial-1").Locator("[value='0']"))
            .ToBeCheckedAsync();
        await Assertions
            .Expect(desk.Response("smile.rate.trial-2").Locator("[value='2']"))
            .ToBeCheckedAsync();
        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task A_sitting_is_wiped_after_its_export_unless_asked_otherwise_and_can_be_put_back()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();
        await desk.KeptAsync();
        await desk.GoToAsync("Export");
        await desk.ExportAsync();
        await Assertions.Expect(desk.Page.Locator("#exported")).ToContainTextAsync("wiped from this device");
        Assert.Equal(0, await EntriesAsync(desk));

        await desk
            .Page.GetByRole(AriaRole.Button, new() { Name = "Put it back on this device" })
            .ClickAsync();
        await desk.KeptAsync();
        await desk.GoToAsync("Export");
        await desk.Page.Locator("#wipe").UncheckAsync();
        await desk.ExportAsync();
        Assert.Equal(3, await EntriesAsync(desk));
    }

    private static async Task<string> ExportNowAsync(Desk desk)
    {
        var download = await desk.Page.RunAndWaitForDownloadAsync(() =>
            desk.Page.GetByRole(AriaRole.Button, new() { Name = "Export what is on the screen" }).ClickAsync()
        );
        return await File.ReadAllTextAsync((await download.PathAsync())!);
    }

    /// <summary>How many entries the device holds.</summary>
    private static Task<int> EntriesAsync(Desk desk) =>
        desk.Page.EvaluateAsync<int>(
            """
            () => new Promise((resolve) => {
              const asked = indexedDB.open("protocolkit-sittings");
              asked.onsuccess = () => {
                const count = asked.result.transaction("entries").objectStore("entries").count();
                count.onsuccess = () => { asked.result.close(); resolve(count.result); };
              };
            })
            """
        );
}
