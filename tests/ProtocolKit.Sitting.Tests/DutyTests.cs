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
    public async Task Each_consent_is_asked_for_by_itself_because_of_its_line()
    {
        const string Line = "    consentSection(),\n";
        string[] names = ["Exam", "Mouth contact", "Recording", "Pilot data"];
        Assert.Equal(names.Select(_ => 2), await ConsentsAsync(TemplateSource.BuiltIn, names));
        var script = TemplateSource.BuiltIn.TextOf("sitting-page/before.js");
        var without = script.Replace(Line, "", StringComparison.Ordinal);
        Assert.NotEqual(script, without);
        var templates = TemplateSource.Overriding(
            new Dictionary<string, string> { ["sitting-page/before.js"] = without }
        );
        Assert.Equal(names.Select(_ => 0), await ConsentsAsync(templates, names));
    }

    [BrowserFact]
    public async Task A_protocol_without_consents_names_the_four_because_of_their_line()
    {
        const string Says = "Examination, mouth contact, recording, pilot data: ask for each by itself";
        Assert.Contains(Says, await BeforeAsync(TemplateSource.BuiltIn), StringComparison.Ordinal);
        var lines = TemplateSource.BuiltIn.TextOf("sitting-page/before.js").Split('\n');
        var without = lines
            .Select(l => l.Contains(Says, StringComparison.Ordinal) ? "    : [];" : l)
            .ToList();
        Assert.NotEqual(lines, without);
        var templates = TemplateSource.Overriding(
            new Dictionary<string, string> { ["sitting-page/before.js"] = string.Join('\n', without) }
        );
        Assert.DoesNotContain(Says, await BeforeAsync(templates), StringComparison.Ordinal);
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

    private async Task<string> BeforeAsync(TemplateSource templates)
    {
        using var file = new PageFile(Small.Protocol, templates);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        return await desk.Page.Locator("body").InnerTextAsync();
    }

    /// <summary>How many answers each consent offers, yes and no, or none.</summary>
    private async Task<IReadOnlyList<int>> ConsentsAsync(
        TemplateSource templates,
        IReadOnlyList<string> names
    )
    {
        using var file = new PageFile(PageFile.Quillmere, templates);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        var counts = new List<int>();
        foreach (var name in names)
        {
            var group = desk.Page.GetByRole(AriaRole.Group, new() { Name = name, Exact = true });
            counts.Add(await group.GetByRole(AriaRole.Radio).CountAsync());
        }

        return counts;
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
