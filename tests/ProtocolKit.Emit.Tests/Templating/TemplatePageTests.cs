using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Emit.Tests.Templating;

/// <summary>The page on templates is written from the code and names every template of a page.</summary>
public class TemplatePageTests
{
    private const string Switch = "PROTOCOLKIT_REWRITE_TEMPLATES";
    private static readonly string Place = Path.Combine(Example.Root, "templates", "README.md");

    [Fact]
    public void It_stands_as_the_code_has_it()
    {
        var page = TemplatePage.Write();
        if (Environment.GetEnvironmentVariable(Switch) == "1")
        {
            File.WriteAllText(Place, page);
        }

        Assert.Equal(page, File.ReadAllText(Place).ReplaceLineEndings("\n"));
    }

    [Fact]
    public void Of_every_variable_it_says_what_it_holds() => Assert.Empty(TemplatePage.Untold());

    [Fact]
    public void Every_template_of_a_page_is_on_it()
    {
        var told = TemplateEntry.Pages.SelectMany(p => TemplatePage.Includes(p.Name).Prepend(p.Name));
        var html = TemplateSource.BuiltInNames.Where(n => n.EndsWith(".html", StringComparison.Ordinal));
        Assert.Equal(
            html,
            told.Where(n => n.EndsWith(".html", StringComparison.Ordinal))
                .Distinct()
                .Order(StringComparer.Ordinal)
        );
    }

    [Fact]
    public void A_variable_that_is_not_listed_is_an_error_that_names_template_and_line()
    {
        var own = TemplateSource.Overriding(
            new Dictionary<string, string>
            {
                ["letter/letter.html"] = "<p>Fine.</p>\n<p>{{ frame.secret }}</p>",
            }
        );
        var fault = Assert.Throws<TemplateFaultException>(() =>
            Emit.Reports.LetterPage.Render(
                new Model.CaregiverLetter(Example.Protocol, "QC-1", [], new Dictionary<string, string>()),
                OutputOptions.Default,
                own
            )
        );
        Assert.Contains("letter/letter.html", fault.Message, StringComparison.Ordinal);
        Assert.Contains("line 2", fault.Message, StringComparison.Ordinal);
    }
}
