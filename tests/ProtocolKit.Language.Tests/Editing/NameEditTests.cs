using System.Text.RegularExpressions;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.Editing;

/// <summary>
/// Names of every kind of statement edited by themselves: one letter more or less, another's name, and a name that what mentions it
/// no longer finds. What comes out is what the whole text compiles to.
/// </summary>
public sealed partial class NameEditTests
{
    private static readonly Dictionary<string, string> NoModules = [];

    private const string Tasks = """
        scale movement, higher is better
          1 "Full."
          0 "None."
        observation overflow "neck joins in"
        section mouth "Mouth"
          task open "Open wide"
            say     "Open."
            trials  2, keep highest rate
            rate    movement
            tick    overflow
          task close "Close"
            say     "Close it."
            rate    movement
          task purse "Purse" each side right, left
            say     "Purse."
            rate    movement
          task tell "Tell"
            say     "Tell me."
            yes-no  told, qualitative
        score mouth-total "Mouth"
          add up  rate of every task in mouth
        score opened "Opened"
          = open.rate * 2
        score both "Both"
          = mouth-total + opened
        cut-offs both
          ages           slow      usual
          4;0 to 11;11   0 to 1    2 to 6
          basis pilot "our pilot", n 400, cases 30
        cut-offs mouth-total
          ages           slow      usual
          4;0 to 11;11   0 to 1    2 to 4
          basis pilot "our pilot", n 400, cases 30
        actions
          look "Look again" within 2 weeks
            when any band is slow
            when open.overflow is seen
          done "No action"
            when no other action applies
        claim "a child who opens isn't slow in both"
          when open.rate = 1 then both is usual
        """;

    /// <summary>The first line of a statement that has a name: its first word, and the name.</summary>
    [GeneratedRegex(
        @"^ *(task|scale|family|material|caution|observation|band|section|measure|score|table|side|cut-offs|re-test|ask|consent|event|protocol) +([a-z][a-z0-9-]*)",
        RegexOptions.Multiline
    )]
    private static partial Regex Named();

    [Fact]
    public void Every_name_of_a_text_can_be_edited()
    {
        var cache = Edit(
            Tiny.Whole(Tasks, "4;0 to 11;11"),
            new Modules(NoModules),
            int.MaxValue,
            new Random(1)
        );
        Assert.True(cache.Reused > 40, $"{cache.Reused} were compiled by themselves.");
    }

    [Fact]
    public void Every_name_of_the_example_can_be_edited()
    {
        var cache = Edit(EditedTexts.Example, Modules.OfQuillmere, 40, new Random(2));
        Assert.True(cache.Reused > 20, $"{cache.Reused} were compiled by themselves.");
    }

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    public void Names_of_any_text_can_be_edited(int seed)
    {
        var random = new Random(seed);
        for (var i = 0; i < 60; i++)
        {
            var (text, modules) = EditedTexts.All[random.Next(EditedTexts.All.Count)];
            Edit(text, modules, 3, random);
        }
    }

    [Theory]
    [InlineData("task tell", true)]
    [InlineData("task close", true)]
    [InlineData("task purse", true)]
    [InlineData("task open", true)]
    [InlineData("section mouth", true)]
    [InlineData("section mouth \"Mouth", true)]
    [InlineData("cut-offs both", true)]
    [InlineData("score opened", true)]
    [InlineData("score both", true)]
    public void A_name_is_compiled_by_itself(string statement, bool isReused)
    {
        var modules = new Modules(NoModules);
        var whole = Tiny.Whole(Tasks, "4;0 to 11;11");
        var cache = new CompilationCache(modules);
        cache.Compile(new SourceText("edited.protocol", whole));
        EditedTexts.Same(cache, whole.Replace(statement, statement + "x", StringComparison.Ordinal), modules);
        Assert.Equal(isReused ? 1 : 0, cache.Reused);
    }

    private static CompilationCache Edit(string whole, Modules modules, int most, Random random)
    {
        var cache = new CompilationCache(modules);
        cache.Compile(new SourceText("edited.protocol", whole));
        var all = Named().Matches(whole).ToArray();
        random.Shuffle(all);
        foreach (var name in all.Take(most).Select(m => m.Groups[2]))
        {
            var end = name.Index + name.Length;
            foreach (
                var edited in (string[])
                    [
                        whole.Insert(end, "x"),
                        whole.Insert(name.Index, "a"),
                        whole.Insert(end, "X"),
                        whole.Remove(end - 1, 1),
                        whole.Remove(name.Index, name.Length).Insert(name.Index, Other(all, random)),
                    ]
            )
            {
                EditedTexts.Same(cache, edited, modules);

                // A letter more while the mistake stands, or, where it is none, from what it was.
                EditedTexts.Same(cache, edited.Insert(name.Index, "b"), modules);
                EditedTexts.Same(cache, whole, modules);
            }
        }

        return cache;
    }

    private static string Other(Match[] all, Random random) => all[random.Next(all.Length)].Groups[2].Value;
}
