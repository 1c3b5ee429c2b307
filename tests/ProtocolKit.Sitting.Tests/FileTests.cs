using System.Text;
using Microsoft.Playwright;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Sitting;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Sitting.Tests.Support;
using UglyToad.PdfPig;

namespace ProtocolKit.Sitting.Tests;

/// <summary>One small file that needs no network and can reach none, and prints at any moment.</summary>
[Collection(InTheBrowser.Name)]
public class FileTests(Browsers browsers)
{
    [Fact]
    public void The_example_stays_below_400_kilobytes()
    {
        using var file = new PageFile(PageFile.Quillmere);
        Assert.InRange(new FileInfo(file.Path).Length, 1, 400_000);
    }

    [Fact]
    public void The_same_protocol_gives_the_same_bytes()
    {
        using var one = new PageFile(PageFile.Quillmere);
        using var other = new PageFile(PageFile.Quillmere);
        Assert.Equal(Encoding.UTF8.GetBytes(one.Text), Encoding.UTF8.GetBytes(other.Text));
    }

    [Fact]
    public void No_address_of_a_network_stands_in_the_file()
    {
        using var file = new PageFile(PageFile.Quillmere);

        // The one address is the name of the drawing language, which nothing asks for.
        var rest = file.Text.Replace("\"http://www.w3.org/2000/svg\"", "", StringComparison.Ordinal);
        Assert.DoesNotContain("http://", rest, StringComparison.Ordinal);
        Assert.DoesNotContain("https://", rest, StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task The_content_policy_forbids_every_request_and_every_other_script()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        var outcome = await desk.Page.EvaluateAsync<string[]>(
            """
            async () => {
              const tried = [];
              await fetch("https://example.org/").catch(() => tried.push("fetch"));
              await new Promise((resolve) => {
                const image = new Image();
                image.onerror = () => { tried.push("image"); resolve(); };
                image.src = "https://example.org/x.png";
              });
              const script = document.createElement("script");
              script.textContent = "globalThis.ran = true";
              document.body.append(script);
              tried.push("ran" in globalThis ? "a script ran" : "script");
              return tried;
            }
            """
        );
        Assert.Equal(["fetch", "image", "script"], outcome);
        Assert.Equal([file.Address], desk.Requests.Except(desk.Refused));
    }

    [BrowserFact]
    public async Task It_prints_what_was_entered_at_any_moment()
    {
        using var file = new PageFile(Small.Protocol);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await desk.Response("smile.rate.trial-1").Locator("[value='1']").CheckAsync();
        await desk.Response("smile.rate.trial-2").Locator("select").SelectOptionAsync("refused");
        await desk.Page.GetByLabel("Notes").FillAsync("looks at the door");
        var text = Text(await desk.Page.PdfAsync());
        foreach (
            var part in new[]
            {
                "Small Screen",
                "age 5;0",
                "Part of the way.",
                "refused",
                "looks at the door",
                "Touch on the tongue",
            }
        )
        {
            Assert.Contains(part, text, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("Stop", text, StringComparison.Ordinal);
    }

    [BrowserFact]
    public async Task A_page_made_for_the_short_form_begins_with_it()
    {
        using var file = new PageFile(PageFile.Quillmere, options: new() { ShortForm = true });
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await Assertions
            .Expect(desk.Page.GetByRole(AriaRole.Radio, new() { NameRegex = new("^Short form") }))
            .ToBeCheckedAsync();
    }

    [BrowserFact]
    public async Task A_translation_s_words_are_marked_as_its_language_and_the_page_s_own_as_english()
    {
        using var file = new PageFile(PageFile.German);
        await using var desk = await Desk.OpenAsync(browsers, file);
        await desk.NewSittingAsync();
        await desk.BeginTasksAsync();
        await Assertions.Expect(desk.Page.Locator("html")).ToHaveAttributeAsync("lang", "en");
        await Assertions.Expect(desk.Page.Locator(".say").First).ToHaveAttributeAsync("lang", "de");
        var first = PageFile.German.Tasks.MinBy(t => t.Number)!;
        await Assertions.Expect(desk.Page.Locator(".say").First).ToContainTextAsync(first.Variants[0].Say[0]);
        Assert.NotEqual(first.Title, PageFile.Quillmere.Tasks.MinBy(t => t.Number)!.Title);
    }

    [Fact]
    public void Every_script_of_the_folder_is_in_the_page()
    {
        var scripts = TemplateSource
            .BuiltInNames.Where(n =>
                n.StartsWith("sitting-page/", StringComparison.Ordinal)
                && n.EndsWith(".js", StringComparison.Ordinal)
            )
            .ToList();
        Assert.NotEmpty(scripts);
        var page = new SittingPage()
            .Render(Small.Protocol, OutputOptions.Default, TemplateSource.BuiltIn)
            .Single()
            .Text;
        foreach (var script in scripts)
        {
            var first = TemplateSource
                .BuiltIn.TextOf(script)
                .Split('\n')
                .First(l =>
                    l.StartsWith("const ", StringComparison.Ordinal)
                    || l.StartsWith("function ", StringComparison.Ordinal)
                    || l.StartsWith("class ", StringComparison.Ordinal)
                    || l.StartsWith("let ", StringComparison.Ordinal)
                    || l.StartsWith("async ", StringComparison.Ordinal)
                );
            Assert.Contains(
                "\n" + first + "\n",
                page.Replace("<script type=\"module\">", "\n", StringComparison.Ordinal),
                StringComparison.Ordinal
            );
        }
    }

    private static string Text(byte[] pdf)
    {
        using var document = PdfDocument.Open(pdf);
        return string.Join(' ', document.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
    }
}
