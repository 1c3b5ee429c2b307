using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>Killed at any moment, a sitting loses the last keystroke at most, and marks the gap.</summary>
public class CrashTests(Browsers browsers) : IClassFixture<Browsers>
{
    private const int Moments = 50;

    /// <summary>Every tenth time the whole browser is killed, else the process of the page alone.</summary>
    private const int WholeBrowserEvery = 10;

    [BrowserFact]
    public async Task Killed_at_fifty_random_moments_nothing_is_lost_but_the_last_keystroke()
    {
        var folder = Directory.CreateTempSubdirectory("protocolkit-profile-");
        using var file = new PageFile(Small.Protocol);
        var random = new Random(4711);
        var context = await LaunchAsync(folder);
        try
        {
            var page = await OpenAsync(context, file);
            await page.GetByRole(AriaRole.Button, new() { Name = "New sitting" }).ClickAsync();
            await page.GetByRole(AriaRole.Button, new() { Name = "Begin with the tasks" }).ClickAsync();
            await page.Locator("[data-key='smile.rate.trial-1'] [value='1']").CheckAsync();
            var typed = "";
            for (var moment = 1; moment <= Moments; moment++)
            {
                typed = await TypeAsync(page, typed, random.Next(1, 12), random);
                if (moment % WholeBrowserEvery == 0)
                {
                    await KillBrowserAsync(context, folder);
                    context = await LaunchAsync(folder);
                }
                else
                {
                    await KillPageAsync(page);
                }

                page = await OpenAsync(context, file);
                await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Go on") }).ClickAsync();
                var kept = await page.GetByLabel("Notes").InputValueAsync();
                Assert.True(
                    typed == kept || typed[..^1] == kept,
                    $"Killed for the {moment}th time: of “{typed}” stayed “{kept}”."
                );
                await Assertions
                    .Expect(page.Locator("[data-key='smile.rate.trial-1'] [value='1']"))
                    .ToBeCheckedAsync();
                typed = kept;
            }

            await page.GetByLabel("Go to").SelectOptionAsync("log");
            await Assertions
                .Expect(page.Locator(".log li", new() { HasText = "nothing was entered from" }))
                .ToHaveCountAsync(Moments);
        }
        finally
        {
            await context.DisposeAsync();
            folder.Delete(recursive: true);
        }
    }

    /// <summary>Each key once the one before is kept, and no pause after the last: it alone may be lost.</summary>
    private static async Task<string> TypeAsync(IPage page, string before, int keys, Random random)
    {
        await page.GetByLabel("Notes").FocusAsync();
        await page.Keyboard.PressAsync("Control+End");
        var text = before;
        for (var i = 0; i < keys; i++)
        {
            var letter = (char)('a' + random.Next(26));
            await page.Keyboard.PressAsync(letter.ToString());
            text += letter;
            if (i < keys - 1)
            {
                // A typist is slower than a disk; a machine that runs much else besides may not be.
                await Assertions.Expect(page.Locator("#kept")).ToHaveTextAsync("Kept on this device");
                await Task.Delay(random.Next(10, 30));
            }
        }

        return text;
    }

    private Task<IBrowserContext> LaunchAsync(DirectoryInfo folder) =>
        browsers.Playwright.Chromium.LaunchPersistentContextAsync(
            folder.FullName,
            new()
            {
                ExecutablePath = Browsers.Executable,
                Args = Browsers.Arguments,
                Headless = true,
                HandleSIGTERM = false,
            }
        );

    private static async Task<IPage> OpenAsync(IBrowserContext context, PageFile file)
    {
        var page = await context.NewPageAsync();
        page.SetDefaultTimeout(15_000);
        await page.GotoAsync(file.Address);
        await page.Locator("body[data-ready]").WaitForAsync();
        return page;
    }

    private static async Task KillPageAsync(IPage page)
    {
        var crashed = new TaskCompletionSource();
        page.Crash += (_, _) => crashed.TrySetResult();
        var session = await page.Context.NewCDPSessionAsync(page);
        _ = session.SendAsync("Page.crash");
        await crashed.Task.WaitAsync(TimeSpan.FromSeconds(15));
        await page.CloseAsync();
    }

    /// <summary>Ends the browser's processes on the spot; the profile's folder tells which are this test's.</summary>
    private static async Task KillBrowserAsync(IBrowserContext context, DirectoryInfo folder)
    {
        var closed = new TaskCompletionSource();
        context.Close += (_, _) => closed.TrySetResult();
        foreach (var process in System.Diagnostics.Process.GetProcesses())
        {
            var command = $"/proc/{process.Id}/cmdline";
            if (
                File.Exists(command)
                && (await ReadAsync(command)).Contains(
                    $"--user-data-dir={folder.FullName}",
                    StringComparison.Ordinal
                )
            )
            {
                process.Kill();
            }
        }

        await closed.Task.WaitAsync(TimeSpan.FromSeconds(15));
        File.Delete(Path.Combine(folder.FullName, "SingletonLock"));
    }

    private static async Task<string> ReadAsync(string path)
    {
        try
        {
            return await File.ReadAllTextAsync(path);
        }
        catch (IOException)
        {
            // It ended meanwhile.
            return "";
        }
    }
}
