using Microsoft.Playwright;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>What every sitting page must say stands on it, to be read; and is gone when its line in the template is.</summary>
[Collection(InTheBrowser.Name)]
public class DutyTests(Browsers browsers)
{
    public static TheoryData<string> Owed =>
        new(
            "agreement",
            "stop-signs",
            "consent-first",
            "ask-first",
            "clean-hands",
            "not-today",
            "no-food",
            "rest-breath",
            "refer-today"
        );

    [BrowserTheory]
    [MemberData(nameof(Owed))]
    public async Task A_duty_is_read_on_the_page_because_of_its_line_in_the_template(string duty)
    {
        var sentence = Duties.All.Single(d => d.Name == duty).In(Small.Protocol);
        Assert.Contains(sentence, await StartAsync(TemplateSource.BuiltIn), StringComparison.Ordinal);
        var lines = TemplateSource.BuiltIn.TextOf("sitting-page/page.html").Split('\n');
        var without = lines
            .Where(l => !l.Contains($"data-duty=\"{duty}\"", StringComparison.Ordinal))
            .ToList();
        Assert.Equal(lines.Length - 1, without.Count);
        var templates = TemplateSource.Overriding(
            new Dictionary<string, string> { ["sitting-page/page.html"] = string.Join('\n', without) }
        );
        Assert.DoesNotContain(sentence, await StartAsync(templates), StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task Each_consent_is_asked_for_by_itself()
    {
        using var file = new PageFile(PageFile.Quillmere);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        foreach (var name in new[] { "Exam", "Mouth contact", "Recording", "Pilot data" })
        {
            var group = desk.Page.GetByRole(AriaRole.Group, new() { Name = name, Exact = true });
            await Assertions.Expect(group.GetByRole(AriaRole.Radio)).ToHaveCountAsync(2);
        }
    }

    [BrowserFact]
    public async Task Provisional_is_said_at_every_band_because_of_its_line()
    {
        const string Says = "provisional cut-offs";
        var bands = await BandsAsync(TemplateSource.BuiltIn);
        Assert.NotEmpty(bands);
        Assert.All(bands, b => Assert.Contains(Says, b, StringComparison.Ordinal));
        var script = TemplateSource.BuiltIn.TextOf("sitting-page/result.js");
        var without = script.Replace($"\"{Says}\"", "\"\"", StringComparison.Ordinal);
        Assert.NotEqual(script, without);
        var other = await BandsAsync(
            TemplateSource.Overriding(new Dictionary<string, string> { ["sitting-page/result.js"] = without })
        );
        Assert.All(other, b => Assert.DoesNotContain(Says, b, StringComparison.Ordinal));
    }

    private async Task<string> StartAsync(TemplateSource templates)
    {
        using var file = new PageFile(Small.Protocol, templates);
        await using var desk = await Desk.OpenAsync(browsers, file);
        return await desk.Page.Locator("body").InnerTextAsync();
    }

    private async Task<IReadOnlyList<string>> BandsAsync(TemplateSource templates)
    {
        using var file = new PageFile(PageFile.Quillmere, templates);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.TakeInAsync(Sheets.OfLibrary("qc-0417.yaml"));
        await desk.GoToAsync("End the sitting");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Show the scores" }).ClickAsync();
        return await desk.Page.Locator("[data-band] .band").AllInnerTextsAsync();
    }
}
