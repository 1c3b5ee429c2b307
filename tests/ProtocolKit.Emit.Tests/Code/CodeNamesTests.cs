using System.Text.RegularExpressions;
using ProtocolKit.Emit.Code;

namespace ProtocolKit.Emit.Tests.Code;

public class CodeNamesTests
{
    private static readonly CodeNames Names = new(["class", "new", "fields", "n"]);

    [Theory]
    [InlineData("tongue-total", "tongue_total")]
    [InlineData("pa-run.syllables.trial-2", "pa_run__syllables__trial_2")]
    [InlineData("class", "class_")]
    [InlineData("Class", "Class")]
    [InlineData("a--b", "n___a___002d___002db")]
    [InlineData("a_b", "n___a___005fb")]
    [InlineData("1st", "n___1st")]
    [InlineData("", "n___")]
    public void Names_stay_readable(string name, string expected) => Assert.Equal(expected, Names.Of(name));

    /// <summary>All names of up to five characters of those that could be mixed up: none may share a spelling.</summary>
    [Fact]
    public void No_two_names_are_spelt_alike()
    {
        IEnumerable<string> names = [""];
        var all = new List<string>
        {
            "class",
            "class-",
            "class_",
            "class.",
            "new",
            "new_",
            "n",
            "n_",
            "n___a",
            "n.a",
            "n-.a",
        };
        for (var length = 1; length <= 5; length++)
        {
            names = names.SelectMany(n => "an1-._".Select(c => n + c)).ToList();
            all.AddRange(names);
        }

        var distinct = all.Distinct().ToList();
        Assert.Equal(distinct.Count, distinct.Select(Names.Of).Distinct().Count());
    }

    [Theory]
    [InlineData("é")]
    [InlineData("a b")]
    [InlineData("x;y")]
    [InlineData("\n")]
    [InlineData("\u202E")]
    [InlineData("a\uD800")]
    [InlineData("9")]
    [InlineData("-")]
    public void Every_name_is_made_of_plain_letters_digits_and_low_lines(string name) =>
        Assert.Matches(new Regex("^[A-Za-z][A-Za-z0-9_]*$"), Names.Of(name));

    [Theory]
    [InlineData("quillmere-screen", "QuillmereScreen")]
    [InlineData("a", "A")]
    [InlineData("3d", "Protocol3d")]
    [InlineData("---", "Protocol")]
    [InlineData("x y;z", "XYz")]
    public void Types_are_named_in_capitals(string name, string expected) =>
        Assert.Equal(expected, CodeNames.OfType(name));
}
