using Microsoft.Playwright;

namespace ProtocolKit.Benchmarks.Page;

/// <summary>
/// How long the page's own thread works for an input until the frame that shows it, in processor time, so that other work on the machine
/// doesn't count. Source: Chrome DevTools Protocol, Performance.getMetrics, TaskDuration in thread ticks.
/// </summary>
internal static class InputWork
{
    private const string TwoFrames =
        "() => new Promise((shown) => requestAnimationFrame(() => requestAnimationFrame(shown)))";

    private static readonly string[] Pressed = ["#screen input[value='1']", "#undo", "#redo", "#next"];

    /// <summary>Milliseconds of each rating, undo, redo and turn to the next task, with the list of tasks open.</summary>
    public static async Task<List<double>> OfAsync(IBrowser browser, string path)
    {
        await using var context = await browser.NewContextAsync();
        var page = await PageSpeed.TasksAsync(context, path);
        var session = await context.NewCDPSessionAsync(page);
        await session.SendAsync("Performance.enable", new() { ["timeDomain"] = "threadTicks" });
        var work = new List<double>();
        for (var i = 0; i < 20; i++)
        {
            foreach (var pressed in Pressed)
            {
                var before = await WorkedAsync(session);
                await page.EvaluateAsync("(at) => document.querySelector(at).click()", pressed);
                await page.EvaluateAsync(TwoFrames);
                work.Add(1000 * (await WorkedAsync(session) - before));
            }
        }

        return work;
    }

    private static async Task<double> WorkedAsync(ICDPSession session)
    {
        var metrics = await session.SendAsync("Performance.getMetrics");
        return metrics!
            .Value.GetProperty("metrics")
            .EnumerateArray()
            .Single(m => m.GetProperty("name").GetString() == "TaskDuration")
            .GetProperty("value")
            .GetDouble();
    }
}
