using System.Text.Json.Nodes;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Highlighting;

/// <summary>
/// The editor grammar colours every word of the language as one. After adding a word, run the tests with
/// <c>PROTOCOLKIT_REWRITE_GRAMMAR=1</c> in the environment to write the list of words anew.
/// </summary>
public sealed class HighlightingTests
{
    private const string Switch = "PROTOCOLKIT_REWRITE_GRAMMAR";
    private static readonly string File = Repository.PathOf("grammar", "protocol.tmLanguage.json");

    [Fact]
    public void The_words_of_the_editor_grammar_are_those_of_the_program()
    {
        var words = string.Join('|', Keywords.All);
        if (Environment.GetEnvironmentVariable(Switch) == "1")
        {
            var text = System.IO.File.ReadAllText(File);
            System.IO.File.WriteAllText(File, text.Replace(Words("word"), words, StringComparison.Ordinal));
        }

        Assert.Equal(words, Words("word"));
        Assert.Equal(words, Words("first-word"));
    }

    [NpmFact]
    public void Every_word_is_coloured_as_one_wherever_it_stands()
    {
        using var engine = new EditorEngine();
        var lines = engine.Scopes(string.Concat(Keywords.All.Select(w => $"  {w} own-name {w}\n")));
        foreach (var (word, line) in Keywords.All.Zip(lines))
        {
            Assert.Equal(
                [
                    (word, "keyword.control.protocol"),
                    ("own-name", "variable.other.protocol"),
                    (word, "keyword.other.protocol"),
                ],
                line.Where(p => p.Text.Trim().Length > 0)
            );
        }
    }

    [NpmFact]
    public void A_line_is_coloured_piece_by_piece()
    {
        using var engine = new EditorEngine();
        var lines = engine.Scopes(
            "task tip-nose  # say \"no\"\n"
                + "  say \"Say \\\"{part}\\\".\"\n"
                + "  4;0 to 5;11  -2.5  say-2.rate\n"
                + "  say \"open\n"
                + "  rate trial-2\n"
        );
        Assert.Equal(
            [
                ("task", "keyword.control.protocol"),
                ("tip-nose", "variable.other.protocol"),
                ("# say \"no\"", "comment.line.number-sign.protocol"),
            ],
            Shown(lines[0])
        );
        Assert.Contains(
            ("{part}", "string.quoted.double.protocol variable.other.placeholder.protocol"),
            lines[1]
        );
        Assert.Contains(
            ("\\\"", "string.quoted.double.protocol constant.character.escape.protocol"),
            lines[1]
        );
        Assert.Equal(
            [
                ("4;0", "constant.numeric.age.protocol"),
                ("to", "keyword.other.protocol"),
                ("5;11", "constant.numeric.age.protocol"),
                ("-2.5", "constant.numeric.protocol"),
                ("say-2.rate", "variable.other.protocol"),
            ],
            Shown(lines[2])
        );
        Assert.Equal(
            [("rate", "keyword.control.protocol"), ("trial-2", "variable.other.protocol")],
            Shown(lines[4])
        );
    }

    private static IEnumerable<(string, string)> Shown((string Text, string Scopes)[] line) =>
        line.Where(p => p.Text.Trim().Length > 0);

    private static string Words(string pattern)
    {
        var match = (string)
            JsonNode.Parse(System.IO.File.ReadAllText(File))!["repository"]![pattern]!["match"]!;
        // The list is the one bracket whose words are split by bars.
        return match.Split('(', ')').Single(p => p.Contains("|task|", StringComparison.Ordinal));
    }
}
