using Microsoft.Playwright;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>A page that is open, and the moves of whoever fills it in.</summary>
internal sealed class Desk : IAsyncDisposable
{
    private readonly IBrowserContext _context;

    private Desk(IBrowserContext context, IPage page)
    {
        (_context, Page) = (context, page);
        page.Context.Request += (_, request) => Requests.Add(request.Url);
        page.Context.RequestFailed += (_, request) =>
        {
            if (request.Failure == "csp")
            {
                Refused.Add(request.Url);
            }
        };
        page.PageError += (_, error) => Errors.Add(error);
        page.Console += (_, message) =>
        {
            if (message.Type == "error")
            {
                Errors.Add(message.Text);
            }
        };
    }

    public IPage Page { get; }

    /// <summary>Everything the page asked for.</summary>
    public List<string> Requests { get; } = [];

    /// <summary>What the content policy refused before it left.</summary>
    public List<string> Refused { get; } = [];

    /// <summary>Faults of scripts and refusals of the content policy.</summary>
    public List<string> Errors { get; } = [];

    public static async Task<Desk> OpenAsync(
        Browsers browsers,
        PageFile file,
        BrowserNewContextOptions? options = null,
        string? script = null
    )
    {
        var context = await browsers.Browser.NewContextAsync(
            options
                ?? new()
                {
                    ViewportSize = new() { Width = 1024, Height = 768 },
                }
        );
        context.SetDefaultTimeout(10_000);
        if (script is not null)
        {
            await context.AddInitScriptAsync(script);
        }

        var desk = new Desk(context, await context.NewPageAsync());
        await desk.GoAsync(file);
        return desk;
    }

    public async Task GoAsync(PageFile file)
    {
        await Page.GotoAsync(file.Address);
        await Page.Locator("body[data-ready]").WaitForAsync();
    }

    /// <summary>A second tab on the same device.</summary>
    public async Task<IPage> SecondTabAsync(PageFile file)
    {
        var page = await _context.NewPageAsync();
        await page.GotoAsync(file.Address);
        await page.Locator("body[data-ready]").WaitForAsync();
        return page;
    }

    public async Task NewSittingAsync(int ageMonths = 60)
    {
        await Page.GetByRole(AriaRole.Button, new() { Name = "New sitting" }).ClickAsync();
        await Page.GetByLabel("Age in years;months")
            .FillAsync(System.Globalization.CultureInfo.InvariantCulture, ageMonths);
    }

    public async Task BeginTasksAsync() =>
        await Page.GetByRole(AriaRole.Button, new() { Name = "Begin with the tasks" }).ClickAsync();

    public async Task GoToAsync(string screen) =>
        await Page.GetByLabel("Go to").SelectOptionAsync(new SelectOptionValue { Label = screen });

    /// <summary>Writes the record on the export screen and gives what stands in the file.</summary>
    public async Task<string> ExportAsync(string kind = "YAML")
    {
        var download = await Page.RunAndWaitForDownloadAsync(() =>
            Page.GetByRole(AriaRole.Button, new() { Name = $"Write the record ({kind})" }).ClickAsync()
        );
        return await File.ReadAllTextAsync((await download.PathAsync())!);
    }

    /// <summary>Opens a record file on the first screen.</summary>
    public async Task TakeInAsync(string text)
    {
        await Page.Locator("#file-problems").EvaluateAsync("e => e.replaceChildren()");
        await Page.Locator("#record-file")
            .SetInputFilesAsync(
                new FilePayload
                {
                    Name = "record.yaml",
                    MimeType = "application/yaml",
                    Buffer = System.Text.Encoding.UTF8.GetBytes(text),
                }
            );
        await Page.Locator("#file-problems li")
            .Or(Page.Locator("body[data-screen=before]"))
            .First.WaitForAsync();
    }

    public ILocator Response(string key) => Page.Locator($"[data-key=\"{key}\"]");

    /// <summary>Waits until every entry is kept.</summary>
    public async Task KeptAsync() =>
        await Assertions.Expect(Page.Locator("#kept")).ToHaveTextAsync("Kept on this device");

    public async ValueTask DisposeAsync() => await _context.DisposeAsync();
}

internal static class LocatorMoves
{
    public static Task FillAsync(this ILocator locator, IFormatProvider culture, int number) =>
        locator.FillAsync(number.ToString(culture));
}
