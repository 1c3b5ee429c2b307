using ProtocolKit.Emit.Templating;
using Scriban.Runtime;

namespace ProtocolKit.Emit.Tests.Templating;

public class TemplateTests
{
    private const string Hostile = "</script><b title=\"x\" onclick='y'>&{{ 7 * 6 }}";
    private const string Escaped =
        "&lt;/script&gt;&lt;b title=&quot;x&quot; onclick=&#39;y&#39;&gt;&amp;{{ 7 * 6 }}";

    [Theory]
    [InlineData("{{ text }}")]
    [InlineData("{{ x = text; x }}")]
    [InlineData("{{ [text] | array.join '' }}")]
    [InlineData("{{ text + '' }}")]
    [InlineData("{{ for t in [text] }}{{ t }}{{ end }}")]
    [InlineData("{{ include 'other' text }}")]
    [InlineData("{{ $\"{text}\" }}")]
    public void A_value_is_escaped_on_every_way_out(string template) =>
        Assert.Equal(Escaped, Render(template));

    [Fact]
    public void Only_a_raw_value_passes_as_it_stands()
    {
        Assert.Equal("<i>", Render("{{ raw }}"));
        Assert.Equal("&lt;i&gt;!", Render("{{ raw + '!' }}"));
    }

    [Fact]
    public void An_included_template_is_written_once_and_its_values_are_escaped_once() =>
        Assert.Equal($"<p>{Escaped}</p>", Render("<p>{{ include 'other' text }}</p>"));

    [Theory]
    [InlineData("{{ nothing }}")]
    [InlineData("{{ view.nothing }}")]
    [InlineData("{{ nothing.deeper }}")]
    [InlineData("{{ include 'missing' }}")]
    [InlineData("{{ include text }}")]
    [InlineData("{{ date.now }}")]
    [InlineData("{{ math.random 1 9 }}")]
    [InlineData("{{ math.uuid }}")]
    [InlineData("{{ object.eval '1 + 1' }}")]
    [InlineData("{{ object.eval_template text }}")]
    [InlineData("{{ regex.match text 'a' }}")]
    [InlineData("{{ html.escape text }}")]
    public void What_is_not_there_is_an_error_that_names_template_and_line(string template)
    {
        var fault = Assert.Throws<TemplateFaultException>(() => Render("\n" + template));
        Assert.Matches("^main line 2: |^There is no template named ", fault.Message);
    }

    [Fact]
    public void A_fault_names_its_template_and_its_line()
    {
        var fault = Assert.Throws<TemplateFaultException>(() => Render("one\ntwo {{ nothing }}"));
        Assert.StartsWith("main line 2:", fault.Message, StringComparison.Ordinal);
        fault = Assert.Throws<TemplateFaultException>(() => Render("one\n{{ if }}"));
        Assert.StartsWith("main line 2:", fault.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{{ capture x }}a{{ end }}")]
    [InlineData("{{ if true }}{{ capture x }}a{{ end }}{{ end }}")]
    [InlineData("{{ func f }}<b>{{ end }}{{ f }}")]
    [InlineData("{{ import view }}")]
    [InlineData("{{ f = do; ret 1; end }}")]
    [InlineData("{{ wrap f }}a{{ end }}")]
    public void What_turns_output_into_a_value_is_refused(string template) =>
        Assert.Throws<TemplateFaultException>(() => Render(template));

    [Fact]
    public void Loops_run_as_long_as_a_long_protocol_needs() =>
        Assert.Equal(20_000, Render("{{ for i in 1..20000 }}x{{ end }}").Length);

    [Fact]
    public void The_limits_throw_and_never_cut()
    {
        var context = new HtmlContext { OutputLimit = 100, LimitToString = 100 };
        Assert.Throws<TemplateFaultException>(() => Render("{{ for i in 1..200 }}x{{ end }}", context));
        context = new HtmlContext { LimitToString = 10 };
        Assert.Throws<TemplateFaultException>(() => Render("{{ text }}", context));
        context = new HtmlContext { LoopLimit = 10 };
        Assert.Throws<TemplateFaultException>(() => Render("{{ for i in 1..11 }}x{{ end }}", context));
    }

    [Fact]
    public void A_template_that_includes_itself_is_stopped() =>
        Assert.Throws<TemplateFaultException>(() => Render("{{ include 'main' }}"));

    [Fact]
    public void Line_ends_of_a_template_do_not_show_where_it_was_edited() =>
        Assert.Equal("a\nb", Render("a\r\nb"));

    [Fact]
    public void An_overriding_text_stands_in_for_a_built_in_template()
    {
        const string name = "record-sheet/levels.html";
        Assert.Contains(name, TemplateSource.BuiltInNames);
        var source = TemplateSource.Overriding(new Dictionary<string, string> { [name] = "mine" });
        Assert.Equal("mine", source.TextOf(name));
        Assert.NotEqual("mine", TemplateSource.BuiltIn.TextOf(name));
        Assert.Equal("mine", TemplateRenderer.Render(source, name, [], new HtmlContext()));
    }

    [Fact]
    public void Every_built_in_template_is_well_formed()
    {
        foreach (var name in TemplateSource.BuiltInNames)
        {
            Assert.NotNull(TemplateSource.BuiltIn.Get(name));
        }
    }

    [Theory]
    [InlineData("\"", "\"\\22 \"")]
    [InlineData("</style>", "\"\\3C \\2F style\\3E \"")]
    [InlineData("\\", "\"\\5C \"")]
    [InlineData("a\nb", "\"a\\A b\"")]
    [InlineData("\0", "\"\\FFFD \"")]
    [InlineData("é😀", "\"\\E9 \\1F600 \"")]
    public void A_style_sheet_string_can_not_be_closed_from_inside(string text, string css) =>
        Assert.Equal(css, HtmlContext.CssString(text).Text);

    [Theory]
    [InlineData("\u202Eabc", "\uFFFDabc")]
    [InlineData("a\u0000\u0008b", "a\uFFFD\uFFFDb")]
    [InlineData("😀", "😀")]
    public void Characters_that_do_not_belong_into_a_page_are_shown_as_missing(string text, string html) =>
        Assert.Equal(html, HtmlContext.Escape(text));

    [Fact]
    public void Half_a_character_is_shown_as_missing() =>
        Assert.Equal("a\uFFFDb", HtmlContext.Escape("a\uD800b"));

    [Fact]
    public void A_view_shows_only_what_is_its_own() =>
        Assert.Throws<ArgumentException>(() => TemplateModel.From(new Uri("https://example.org")));

    private static string Render(string template, HtmlContext? context = null)
    {
        var source = TemplateSource.Overriding(
            new Dictionary<string, string> { ["main"] = template, ["other"] = "{{ $1 }}" }
        );
        var model = new ScriptObject
        {
            ["text"] = Hostile,
            ["raw"] = new Raw("<i>"),
            ["view"] = new ScriptObject { ["known"] = 1 },
        };
        return TemplateRenderer.Render(source, "main", model, context ?? new HtmlContext());
    }
}
