using Microsoft.Playwright;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>The installed browser, started once for all tests; each test gets a context of its own, as if on a new device.</summary>
public sealed class Browsers : IAsyncLifetime
{
    public static string? Executable { get; } = BrowserFinder.Find();

    public static IReadOnlyList<string> Arguments { get; } =
    [
        "--no-sandbox",
        "--disable-gpu",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--disable-extensions",
    ];

    public IPlaywright Playwright { get; private set; } = null!;

    public IBrowser Browser { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        if (Executable is null)
        {
            return;
        }

        Playwright = await Microsoft.Playwright.Playwright.CreateAsync();
        Browser = await Playwright.Chromium.LaunchAsync(
            new()
            {
                ExecutablePath = Executable,
                Args = Arguments,
                Headless = true,
            }
        );
    }

    public async Task DisposeAsync()
    {
        if (Executable is not null)
        {
            await Browser.DisposeAsync();
            Playwright.Dispose();
        }
    }
}

/// <summary>All tests of the page share one browser and run one after the other.</summary>
[CollectionDefinition(Name)]
public sealed class InTheBrowser : ICollectionFixture<Browsers>
{
    public const string Name = "in the browser";
}

/// <summary>A test that needs a browser. Without one it is reported as not run, never as passed.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserFactAttribute : FactAttribute
{
    public BrowserFactAttribute()
    {
        if (Browsers.Executable is null)
        {
            Skip = "NOT RUN: no browser of the Chromium family is installed.";
        }
    }
}

/// <inheritdoc cref="BrowserFactAttribute"/>
[AttributeUsage(AttributeTargets.Method)]
public sealed class BrowserTheoryAttribute : TheoryAttribute
{
    public BrowserTheoryAttribute()
    {
        if (Browsers.Executable is null)
        {
            Skip = "NOT RUN: no browser of the Chromium family is installed.";
        }
    }
}
