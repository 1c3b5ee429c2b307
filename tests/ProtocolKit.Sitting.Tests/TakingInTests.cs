using Microsoft.Playwright;
using ProtocolKit.Sitting.Tests.Support;

namespace ProtocolKit.Sitting.Tests;

/// <summary>Record files come in whole or not at all, and never over a sitting that is kept.</summary>
[Collection(InTheBrowser.Name)]
public class TakingInTests(Browsers browsers)
{
    [BrowserTheory]
    [InlineData("qc-0417.yaml")]
    [InlineData("qc-0731.yaml")]
    [InlineData("qc-0859.yaml")]
    [InlineData("qc-0906.yaml")]
    public async Task A_record_of_the_library_goes_in_and_comes_out_the_same(string name)
    {
        var original = Sheets.Read(Sheets.OfLibrary(name), PageFile.Quillmere);
        using var file = new PageFile(PageFile.Quillmere);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.TakeInAsync(Sheets.OfLibrary(name));
        await desk.GoToAsync("Export");
        await desk.Page.Locator("#wipe").UncheckAsync();
        foreach (var kind in new[] { "YAML", "JSON" })
        {
            var again = Sheets.Read(await desk.ExportAsync(kind), PageFile.Quillmere);
            Assert.Equal(original.Fields, again.Fields);
            Assert.Equal(original.Case, again.Case);
            Assert.Equal(original.Seen, again.Seen);
            Assert.Equal(original.Rater, again.Rater);
            Assert.Equal(original.Help, again.Help);
            Assert.Equal(original.Aided, again.Aided);
            Assert.Equal(original.History, again.History);
            Assert.Equal(original.Consents, again.Consents);
            Assert.Equal(original.Notes, again.Notes);
            Assert.Equal(original.Events, again.Events);
            Assert.Equal(original.Override, again.Override);
            Assert.Equal(original.Later, again.Later);
            Assert.Equal(original.Corrections, again.Corrections);
        }

        Assert.Empty(desk.Errors);
    }

    [BrowserFact]
    public async Task A_file_exported_twice_never_makes_a_second_sitting()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='2']").CheckAsync();
        await desk.GoToAsync("Export");
        await desk.Page.Locator("#wipe").UncheckAsync();
        var first = await desk.ExportAsync();
        var twin = await desk.ExportAsync();
        await desk.GoToAsync("Sittings");
        await desk.TakeInAsync(twin);
        await Assertions
            .Expect(desk.Page.Locator("#file-problems"))
            .ToContainTextAsync("which is kept here already. Go on with that one.");

        await desk.Page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Go on") }).ClickAsync();
        await desk.Page.GetByRole(AriaRole.Radio, new() { Name = "Seen", Exact = true }).CheckAsync();
        await desk.KeptAsync();
        await desk.GoToAsync("Sittings");
        await desk.TakeInAsync(first);
        await Assertions
            .Expect(desk.Page.Locator("#file-problems"))
            .ToContainTextAsync("which is kept here and has come further");
        await Assertions.Expect(desk.Page.Locator(".kept li")).ToHaveCountAsync(1);
    }

    [BrowserFact]
    public async Task A_record_of_another_protocol_or_form_is_refused_with_the_reason()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await RefusedAsync(
            desk,
            Sheets.OfLibrary("qc-0417.yaml"),
            "This record is of the protocol “quillmere-screen”, not of small-screen."
        );
        var record = Whole();
        await RefusedAsync(
            desk,
            record.Replace(Small.Protocol.Fingerprints.Form, "0123456789abcdef", StringComparison.Ordinal),
            "The record was taken with another form"
        );
        await RefusedAsync(desk, "", "The file is empty.");
        await RefusedAsync(
            desk,
            "PK\u0003\u0004 no record at all",
            "A line has a key, a colon, a space and a value."
        );
        await RefusedAsync(desk, "just: text", "This file names no protocol");
    }

    [BrowserFact]
    public async Task A_truncated_file_is_refused_wherever_it_was_cut()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='2']").CheckAsync();
        await desk.GoToAsync("Export");
        var yaml = await desk.ExportAsync();
        var json = await desk.ExportAsync("JSON");
        await desk.GoToAsync("Sittings");
        foreach (var share in new[] { 0.4, 0.7, 0.95 })
        {
            await RefusedAsync(desk, yaml[..(int)(yaml.Length * share)], "The file is not whole");
            await RefusedAsync(desk, json[..(int)(json.Length * share)], "The file is not whole");
        }
    }

    [BrowserTheory]
    [InlineData("smile.rate.trial-1: 3", "smile.rate.trial-1: “3” is none of 2, 1, 0.")]
    [InlineData("blow.run.trial-1: 99", "blow.run.trial-1: Only 0.5 to 15 can be recorded.")]
    [InlineData("blow.run.trial-1: 1.25", "blow.run.trial-1: Write it in steps of 0.1.")]
    [InlineData("blow.run.trial-1: fast", "blow.run.trial-1: Write a number.")]
    [InlineData("frown.rate: 1", "frown.rate: this protocol has no such answer.")]
    [InlineData("smile.rate.trial-1: \"2", "A quotation mark isn’t closed here.")]
    [InlineData("smile.rate.trial-1: &a 2", "This page reads plain values only.")]
    [InlineData("\tsmile.rate.trial-1: 2", "A tab stands at the start.")]
    public async Task What_a_record_can_not_hold_is_refused_by_its_line_or_name(string line, string says)
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await RefusedAsync(desk, Whole() + "answers:\n  " + line + "\n", says);
    }

    [BrowserFact]
    public async Task A_name_in_a_record_is_refused()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await RefusedAsync(
            desk,
            Whole() + "child: Somebody\n",
            "Names and addresses of people don’t belong into one."
        );
    }

    [BrowserFact]
    public async Task A_sitting_is_finished_on_a_later_day_in_a_part_of_its_own()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.TakeInAsync(Whole() + "answers:\n  smile.rate.trial-1: 2\n  blow.run.trial-1: refused\n");
        await desk
            .Page.GetByRole(AriaRole.Button, new() { Name = "Go on today, as a further part" })
            .ClickAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();
        await desk.Response("smile.rate.trial-1").GetByLabel("Why it is corrected").FillAsync("misread");
        await desk.Response("smile.rate.trial-2").Locator("[value='0']").CheckAsync();
        await desk.Page.Locator("#next").ClickAsync();
        await desk.Response("blow.run.trial-1").Locator("input.number").FillAsync("3.5");
        await desk.GoToAsync("Before the sitting");
        await desk.Page.GetByLabel("Examiner’s code").FillAsync("SLP-07");
        await desk.GoToAsync("End the sitting");
        await desk.Page.GetByLabel("All of these").SelectOptionAsync("out-of-time");
        await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Mark them" }).ClickAsync();
        await desk.GoToAsync("Export");

        var record = Sheets.Read(await desk.ExportAsync(), Small.Protocol);
        Assert.Equal(2, record.Seen.Count);
        var change = Assert.Single(record.Corrections);
        Assert.Equal(("SLP-07", "misread", "2", "1"), (change.Who, change.Why, change.Old, change.New));
        Assert.Contains(record.Later, l => l is { Part: 2, Key: "blow.run.trial-1", Before: "refused" });
    }

    private static string Whole()
    {
        var prints = Small.Protocol.Fingerprints;
        return $"""
            protocol: small-screen
            edition: "1.0"
            fingerprints:
              form: "{prints.Form}"
              administration: "{prints.Administration}"
              interpretation: "{prints.Interpretation}"
            case: C-1
            age-months: 60
            parts:
              - seen: 2026-03-04

            """;
    }

    private static async Task RefusedAsync(Desk desk, string text, string says)
    {
        await desk.TakeInAsync(text);
        await Assertions.Expect(desk.Page.Locator("#file-problems")).ToContainTextAsync(says);
        await Assertions.Expect(desk.Page.Locator("h1")).ToHaveTextAsync("Sittings");
    }
}
