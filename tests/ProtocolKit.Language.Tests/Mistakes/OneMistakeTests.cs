using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Mistakes;

/// <summary>One mistake gives one finding: what follows from it is not told as well.</summary>
public sealed class OneMistakeTests(Xunit.Abstractions.ITestOutputHelper output)
{
    /// <summary>
    /// Every word of the example, one at a time, loses its last letter but one: of those that are mistakes then, nearly
    /// all are told once.
    /// </summary>
    [Fact]
    public void A_slip_in_one_word_of_the_example_is_told_once()
    {
        var text = Repository.Read("library", "quillmere", "quillmere-screen.protocol");
        var counts = Mutations(text)
            .Where((_, i) => i % 17 == 3)
            .Select(m =>
                Compilation
                    .Of(new SourceText("example.protocol", m), Modules.OfQuillmere)
                    .Diagnostics.Count(d => d.Severity == Severity.Error)
            )
            .Where(c => c > 0)
            .ToList();
        var once = counts.Count(c => c == 1);
        output.WriteLine(
            $"{counts.Count} slips that are mistakes; {once} told once, {counts.Count(c => c == 2)} twice, most {counts.Max()}"
        );
        Assert.InRange(counts.Count, 50, 10_000);
        Assert.InRange((double)once / counts.Count, 0.9, 1);
    }

    private static IEnumerable<string> Mutations(string text)
    {
        var start = -1;
        var isQuoted = false;
        var isComment = false;
        for (var i = 0; i < text.Length; i++)
        {
            isQuoted ^= text[i] == '"' && !isComment;
            isComment = text[i] != '\n' && (isComment || (text[i] == '#' && !isQuoted));
            var isWord = !isQuoted && !isComment && (char.IsAsciiLetterLower(text[i]) || text[i] == '-');
            if (isWord)
            {
                start = start < 0 ? i : start;
                continue;
            }

            if (start >= 0 && i - start > 3)
            {
                yield return text.Remove(i - 2, 1);
            }

            start = -1;
        }
    }
}
