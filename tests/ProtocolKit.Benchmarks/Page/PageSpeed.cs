using System.Globalization;
using Microsoft.Playwright;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Sitting;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Printing;

namespace ProtocolKit.Benchmarks.Page;

/// <summary>
/// The sitting page in the installed browser: its size, how soon it paints, and how soon an input shows with 300 tasks. The
/// figures are this machine's; no test depends on them.
/// </summary>
internal static class PageSpeed
{
    private const int Tasks = 300;

    /// <summary>Milliseconds from an input to the frame that shows what it did. Source: W3C, Event Timing API, section 2.</summary>
    private const string Watch = """
        () => {
          globalThis.inputs = [];
          const note = (event) => {
            const began = event.timeStamp;
            requestAnimationFrame(() => {
              const channel = new MessageChannel();
              channel.port1.onmessage = () => inputs.push(performance.now() - began);
              channel.port2.postMessage(0);
            });
          };
          document.addEventListener("click", note, true);
          document.addEventListener("keydown", note, true);
        }
        """;

    public static async Task PrintAsync(TextWriter output, int times)
    {
        var executable = BrowserFinder.Find();
        if (executable is null)
        {
            await output.WriteLineAsync(
                "No browser of the Chromium family is installed; nothing was measured."
            );
            return;
        }

        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(
            new() { ExecutablePath = executable, Args = ["--no-sandbox"] }
        );
        var folder = Directory.CreateTempSubdirectory("protocolkit-page-");
        try
        {
            var example = Write(folder, "example.html", Example());
            var many = Write(folder, "many.html", Many());
            var size = new FileInfo(example).Length;
            await output.WriteLineAsync(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"The example's page: {size / 1000.0:0.0} kB (at most 400)."
                )
            );
            Tell(
                output,
                "First paint of the example",
                "at most 500",
                await PaintsAsync(browser, example, times)
            );
            Tell(
                output,
                $"First paint with {Tasks} tasks",
                "no limit",
                await PaintsAsync(browser, many, times)
            );
            Tell(
                output,
                $"An input shown, {Tasks} tasks, list open",
                "at most 50",
                await InputsAsync(browser, many)
            );
            Tell(
                output,
                $"Processor time of the page for an input, {Tasks} tasks",
                "at most 50",
                await InputWork.OfAsync(browser, many)
            );
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<List<double>> PaintsAsync(IBrowser browser, string path, int times)
    {
        var paints = new List<double>();
        for (var i = 0; i < times; i++)
        {
            await using var context = await browser.NewContextAsync();
            var page = await context.NewPageAsync();
            await page.GotoAsync(new Uri(path).AbsoluteUri);
            await page.Locator("body[data-ready]").WaitForAsync();
            paints.Add(
                await page.EvaluateAsync<double>(
                    "() => performance.getEntriesByName('first-contentful-paint')[0].startTime"
                )
            );
        }

        return paints;
    }

    /// <summary>A page with a new sitting's first task and the list of tasks open.</summary>
    public static async Task<IPage> TasksAsync(IBrowserContext context, string path)
    {
        var page = await context.NewPageAsync();
        await page.GotoAsync(new Uri(path).AbsoluteUri);
        await page.GetByRole(AriaRole.Button, new() { Name = "New sitting" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Begin with the tasks" }).ClickAsync();
        await page.Locator("#list").ClickAsync();
        return page;
    }

    /// <summary>Ratings by click, turning pages, undo, and letters of a note.</summary>
    private static async Task<List<double>> InputsAsync(IBrowser browser, string path)
    {
        await using var context = await browser.NewContextAsync();
        var page = await TasksAsync(context, path);
        await page.EvaluateAsync(Watch);
        for (var i = 0; i < 20; i++)
        {
            await page.Locator("#screen input[value='1']").First.ClickAsync();
            await page.Locator("#undo").ClickAsync();
            await page.Locator("#redo").ClickAsync();
            await page.GetByLabel("Notes").PressSequentiallyAsync("ab");
            await page.Locator("#next").ClickAsync();
        }

        var inputs = await page.EvaluateAsync<double[]>("() => globalThis.inputs");
        return [.. inputs];
    }

    private static void Tell(TextWriter output, string what, string limit, List<double> all)
    {
        all.Sort();
        output.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{what}: median {all[all.Count / 2]:0.0} ms, longest {all[^1]:0.0} ms of {all.Count} ({limit})."
            )
        );
    }

    private static string Write(DirectoryInfo folder, string name, Protocol protocol)
    {
        var page = new SittingPage().Render(protocol, OutputOptions.Default, TemplateSource.BuiltIn).Single();
        var path = Path.Combine(folder.FullName, name);
        File.WriteAllText(path, page.Text);
        return path;
    }

    private static Protocol Example() =>
        Compiled(ProtocolFile.Open("library/quillmere/quillmere-screen.protocol"));

    private static Protocol Many()
    {
        var tasks = Enumerable
            .Range(1, Tasks)
            .Select(i =>
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"  task t{i} \"Task {i}\"\n    say \"Do this.\"\n    trials up to 2, second when rate below 2, keep highest rate\n    rate three\n"
                )
            );
        return Compiled(
            ProtocolFile.OfInput(
                "language 1\nprotocol many\n  title \"Many\"\n  edition 1\n  ages 4;0 to 6;11\n"
                    + "scale three, higher is better\n  2 \"Full.\"\n  1 \"Half.\"\n  0 \"None.\"\nsection all \"All\"\n"
                    + "  stop after 9 tasks in a row rated 0\n"
                    + string.Concat(tasks)
                    + "score total \"Total\"\n  add up rate of every task in all\n"
                    + "actions\n  none \"No action\" when no other action applies\n"
            )
        );
    }

    private static Protocol Compiled(ProtocolFile file) =>
        file.Compilation.Protocol ?? throw new InvalidOperationException($"{file.Path} has errors.");
}
