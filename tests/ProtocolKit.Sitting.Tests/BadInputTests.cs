using System.Globalization;
using System.Text;
using Microsoft.Playwright;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>Whatever stands in a protocol's texts, the page stays whole, and nothing in them runs.</summary>
[Collection(InTheBrowser.Name)]
public class BadInputTests(Browsers browsers)
{
    private static readonly string Long =
        string.Join(' ', Enumerable.Repeat("Point to the ceiling and wait.", 20)) + new string('x', 120);

    public static TheoryData<string> Texts =>
        new(
            "</script><script>globalThis.hacked = true</script>",
            "\"><img src=x onerror='globalThis.hacked = true'>",
            "</style><style>body { display: none }</style>",
            "<!-- <script> {{ 6 * 7 }} ${globalThis.hacked = true}",
            "\\\"; globalThis.hacked = true; //",
            "שלום, הרימו את הלשון (2) אל האף",
            "把舌头伸向鼻子，保持三秒钟。",
            "a\u202Eb\u2028c\u0000d\uD800e",
            Long
        );

    [BrowserTheory]
    [MemberData(nameof(Texts))]
    public async Task A_protocol_with_this_text_everywhere_is_given_and_scored(string text)
    {
        var protocol = new ProtocolTexts((_, _, _) => text).Map(Small.Protocol);
        using var file = new PageFile(protocol);
        await using var desk = await Desk.OpenAsync(
            browsers,
            file,
            new()
            {
                ViewportSize = new() { Width = 375, Height = 740 },
            }
        );
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        var shown = Emit.Templating.HtmlContext.Clean(text);
        Assert.Contains(
            Squeezed(shown),
            Squeezed((await desk.Page.Locator("#task-title").TextContentAsync())!),
            StringComparison.Ordinal
        );
        await desk.Response("smile.rate.trial-1").Locator("[value='2']").CheckAsync();
        Assert.True(await IsWholeAsync(desk), "Something runs off the side.");
        await desk.GoToAsync("End the sitting");
        await desk.Page.Locator(".mark-all select").SelectOptionAsync("refused");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Mark them" }).ClickAsync();
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();
        await Assertions.Expect(desk.Page.Locator("[data-outcome]").First).ToBeVisibleAsync();
        Assert.True(await IsWholeAsync(desk), "Something runs off the side.");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Export", Exact = true }).ClickAsync();
        var reading = RecordReader.Read(await desk.ExportAsync(), "record", protocol);

        Assert.Empty(reading.Problems.Select(p => p.ToString()));
        Assert.False(await desk.Page.EvaluateAsync<bool>("() => 'hacked' in globalThis"));
        Assert.Empty(desk.Errors);
        Assert.Equal([file.Address], desk.Requests);
    }

    [BrowserTheory]
    [InlineData(1)]
    [InlineData(300)]
    public async Task A_protocol_may_have_one_task_or_three_hundred(int tasks)
    {
        var protocol = PageFile.Of(Many.Text(tasks));
        using var file = new PageFile(protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Page.Locator("#list").ClickAsync();
        await Assertions.Expect(desk.Page.Locator(".task-link")).ToHaveCountAsync(tasks);
        await desk.Page.Locator(".task-link").Last.ClickAsync();
        await desk.Response($"t{tasks}.rate").Locator("[value='1']").CheckAsync();
        await Assertions.Expect(desk.Page.Locator(".task-link").Last).ToContainTextAsync("answered");
        await Assertions.Expect(desk.Page.Locator("#next")).ToHaveTextAsync("End");
        await desk.Page.Locator("#stop").ClickAsync();
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "End the sitting" }).ClickAsync();
        await desk.GoToAsync("Export");
        var record = Sheets.Read(await desk.ExportAsync(), protocol);
        Assert.Equal(tasks - 1, record.Fields.Count(f => f == (long)State.Stopped));
        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task Markup_and_odd_characters_in_a_note_stay_a_note()
    {
        const string Note = "<b>tired</b> \"x\" \\ 舌头 لسان # not a comment: yes";
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Page.GetByLabel("Notes").FillAsync(Note + "\u0007\uFFFF\nsecond line");
        await desk.Response("smile.rate.trial-1").Locator("select").SelectOptionAsync("refused");
        await desk.GoToAsync("End the sitting");
        await desk.Page.Locator(".mark-all select").SelectOptionAsync("refused");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Mark them" }).ClickAsync();
        await desk.GoToAsync("Export");
        var exported = await desk.ExportAsync();
        Assert.Equal(Note + "\nsecond line", Sheets.Read(exported, Small.Protocol).Notes["smile"]);

        await desk.GoToAsync("Sittings");
        await desk.TakeInAsync(exported);
        await desk.GoToAsync("Tasks");
        await Assertions.Expect(desk.Page.GetByLabel("Notes")).ToHaveValueAsync(Note + "\nsecond line");
    }

    [BrowserTheory]
    [InlineData("call the mother: 0123 456789", true)]
    [InlineData("mail to someone@example.org", true)]
    [InlineData("a girl called Anna", true)]
    [InlineData("tongue drifts to the left, 2 of 3 times", false)]
    public async Task A_note_that_looks_like_a_way_to_a_person_is_warned_of(string note, bool isWarned)
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Page.GetByLabel("Notes").FillAsync(note);
        await Assertions
            .Expect(desk.Page.GetByText("This looks like a way to find a person."))
            .ToBeVisibleAsync(new() { Visible = isWarned });
    }

    private static Task<bool> IsWholeAsync(Desk desk) =>
        desk.Page.EvaluateAsync<bool>(
            "() => document.documentElement.scrollWidth <= document.documentElement.clientWidth"
        );

    private static string Squeezed(string text) => string.Concat(text.Where(c => !char.IsWhiteSpace(c)));
}

/// <summary>Protocols of any length.</summary>
internal static class Many
{
    public static string Text(int tasks)
    {
        var text = new StringBuilder(
            """
            language 1
            protocol many
              title "Many"
              edition 1
              ages 4;0 to 6;11
            scale three, higher is better
              2 "Full."
              1 "Half."
              0 "None."
            section all "All"

            """
        );
        for (var i = 1; i <= tasks; i++)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"  task t{i} \"Task {i}\"\n    say \"Do this.\"\n    rate three\n"
            );
        }

        text.Append("score total \"Total\"\n  add up rate of every task in all\n");
        text.Append("actions\n  none \"No action\" when no other action applies\n");
        return text.ToString();
    }
}
