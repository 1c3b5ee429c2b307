using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Mistakes;

/// <summary>
/// One wrong line never hides another, and none is told twice: the corpus cases called ten-mistakes-… mark their wrong
/// lines with a comment, and exactly those are found.
/// </summary>
public sealed class TenMistakesTests
{
    private const string Mark = "# mistake";

    public static TheoryData<string> Cases =>
        [
            .. Directory
                .EnumerateDirectories(Repository.PathOf("tests", "corpus"), "ten-mistakes-*")
                .Select(d => Path.GetFileName(d))
                .Order(StringComparer.Ordinal),
        ];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Ten_marked_lines_get_ten_messages(string name)
    {
        var text = Repository.Read("tests", "corpus", name, "source.protocol");
        var marked = text.Split('\n')
            .Select((l, i) => (Line: i + 1, IsMarked: l.Contains(Mark, StringComparison.Ordinal)));
        var wanted = marked.Where(l => l.IsMarked).Select(l => l.Line).ToList();
        Assert.Equal(10, wanted.Count);

        var compilation = Tiny.Raw(text);
        var errors = compilation.Diagnostics.Where(d => d.Severity == Severity.Error).ToList();
        Assert.Equal(wanted, errors.Select(d => d.Place.Line));
        Assert.All(errors, d => Assert.False(string.IsNullOrWhiteSpace(d.Message.Fix)));
        Assert.All(
            errors,
            d =>
                Assert.Contains(
                    d.Source.Line(d.Place.Line).Trim().Replace("\t", " ", StringComparison.Ordinal),
                    DiagnosticText.Render(d)
                )
        );
        Assert.DoesNotContain(compilation.Diagnostics, d => d.Severity == Severity.Warning);
    }
}
