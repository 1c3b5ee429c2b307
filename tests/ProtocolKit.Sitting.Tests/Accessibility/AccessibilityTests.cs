using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests.Accessibility;

/// <summary>Every state of the page, on every kind of screen, without a violation that a program can find.</summary>
public class AccessibilityTests(Browsers browsers, AxeEngine axe)
    : IClassFixture<Browsers>,
        IClassFixture<AxeEngine>
{
    [BrowserTheory]
    [InlineData("phone")]
    [InlineData("tablet")]
    [InlineData("zoomed to 200 %")]
    [InlineData("dark")]
    [InlineData("high contrast")]
    public async Task No_state_violates_a_rule_and_nothing_runs_off_the_side(string screen)
    {
        using var file = new PageFile(PageFile.Quillmere);
        await using var desk = await Desk.OpenAsync(browsers, file, Screen(screen));
        var found = new List<string>();
        await States.WalkAsync(
            desk,
            async state =>
            {
                found.AddRange((await axe.ViolationsAsync(desk.Page)).Select(v => $"{state}: {v}"));
                if (
                    await desk.Page.EvaluateAsync<bool>(
                        "() => document.documentElement.scrollWidth > document.documentElement.clientWidth"
                    )
                )
                {
                    found.Add($"{state}: something runs off the side");
                }
            }
        );
        Assert.True(found.Count == 0, string.Join('\n', found));
        Assert.Empty(desk.Errors);
    }

    [BrowserTheory]
    [InlineData("phone")]
    [InlineData("tablet")]
    [InlineData("zoomed to 200 %")]
    public async Task Whatever_the_keyboard_reaches_shows_it_and_is_not_covered(string screen)
    {
        using var file = new PageFile(PageFile.Quillmere);
        await using var desk = await Desk.OpenAsync(browsers, file, Screen(screen));
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await States.TurnToAsync(desk, "Jaw to the side");
        await desk.Page.Locator("h1").FocusAsync();
        var reached = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < 60; i++)
        {
            await desk.Page.Keyboard.PressAsync("Tab");
            var seen = await desk.Page.EvaluateAsync<string>(FocusReport);
            Assert.DoesNotContain("PROBLEM", seen, StringComparison.Ordinal);
            reached.Add(seen);
        }

        Assert.True(reached.Count > 20, "The keyboard reached few controls.");
    }

    [BrowserFact]
    public async Task Controls_are_at_least_44_pixels_high_where_a_finger_works_them()
    {
        using var file = new PageFile(PageFile.Quillmere);
        await using var desk = await Desk.OpenAsync(browsers, file, Screen("phone"));
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await States.TurnToAsync(desk, "Pa, again and again");
        var low = await desk.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("button, select, summary, .choice, input[type=text], textarea")]
              .filter((n) => n.offsetParent !== null)
              .map((n) => [n.getBoundingClientRect(), n])
              .filter(([box]) => box.height < 43.9 || box.width < 43.9)
              .map(([box, n]) => `${n.tagName} ${n.textContent.slice(0, 20)} ${box.width}×${box.height}`)
            """
        );
        Assert.Empty(low);
    }

    /// <summary>Focused, outlined, and with its middle neither off the screen nor under another thing.</summary>
    private const string FocusReport = """
        () => {
          const node = document.activeElement;
          if (node === document.body) { return "the page's end"; }
          const shown = node.closest(".choice") ?? node;
          const box = shown.getBoundingClientRect();
          const x = box.left + box.width / 2;
          const y = box.top + Math.min(box.height, innerHeight) / 2;
          const top = document.elementFromPoint(x, y);
          const style = getComputedStyle(shown);
          const isOutlined = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
          const isFree = top !== null && (shown.contains(top) || top.contains(shown));
          const name = `${node.tagName} ${node.id} ${node.name ?? ""} ${node.getAttribute("aria-label") ?? node.textContent.slice(0, 30)}`;
          return isOutlined && isFree ? name : `PROBLEM outlined ${isOutlined}, free ${isFree}: ${name}, at ${Math.round(x)}, ${Math.round(y)}`;
        }
        """;

    private static BrowserNewContextOptions Screen(string kind) =>
        kind switch
        {
            "phone" => new()
            {
                ViewportSize = new() { Width = 375, Height = 740 },
                HasTouch = true,
                IsMobile = true,
                ReducedMotion = ReducedMotion.Reduce,
            },
            "tablet" => new()
            {
                ViewportSize = new() { Width = 820, Height = 1100 },
            },
            // 200 % zoom leaves half the width and height in CSS pixels.
            "zoomed to 200 %" => new()
            {
                ViewportSize = new() { Width = 512, Height = 384 },
                DeviceScaleFactor = 2,
            },
            "dark" => new()
            {
                ViewportSize = new() { Width = 1024, Height = 768 },
                ColorScheme = ColorScheme.Dark,
            },
            _ => new()
            {
                ViewportSize = new() { Width = 1024, Height = 768 },
                ForcedColors = ForcedColors.Active,
                Contrast = Contrast.More,
            },
        };
}
