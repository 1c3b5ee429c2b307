using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Proof.Editions;

namespace ProtocolKit.Proof.Tests;

/// <summary>What an edit changes over all records, held against the edit worked out by hand on every sheet.</summary>
public sealed class EditionTests
{
    private const string Tasks = """
        section s "S"
          task a item(three)
          task b item(three)
          task c item(odd)
        score t "T"
          add up rate of every task in s

        """;

    /// <summary>Limits of a table's three bands: up to, and up to.</summary>
    [Theory]
    [InlineData(2, 5, 3, 5)]
    [InlineData(2, 5, 2, 6)]
    [InlineData(1, 3, 4, 7)]
    [InlineData(4, 7, 1, 3)]
    public void Counts_are_those_of_every_sheet_by_hand(int low, int middle, int newLow, int newMiddle)
    {
        var changes = Changes(Table(low, middle), Table(newLow, newMiddle));
        Assert.Empty(changes.NotWorkedOut);
        var sums =
            from a in new[] { 0, 1, 2 }
            from b in new[] { 0, 1, 2 }
            from c in new[] { 0, 2, 5 }
            select a + b + c;
        var expected = sums.Select(s => (Old: Band(s, low, middle), New: Band(s, newLow, newMiddle)))
            .Where(p => p.Old != p.New)
            .GroupBy(p => p)
            .ToDictionary(g => g.Key, g => g.Count());
        var bands = changes.Changes.Where(c => c.What == "T").ToList();
        Assert.Equal(expected.Count, bands.Count);
        Assert.All(bands, c => Assert.Equal(expected[(c.Old, c.New)], (int)c.Records));
        Assert.All(bands, c => Assert.Equal(27, (int)c.All));
    }

    [Fact]
    public void A_stricter_cut_off_recalls_and_a_milder_one_does_not()
    {
        var stricter = Changes(Table(2, 5), Table(3, 5)).Changes.Single(c => c.What is null);
        Assert.True(stricter.IsRecall);
        Assert.Equal(("None", "Look"), (stricter.Old, stricter.New));
        var milder = Changes(Table(3, 5), Table(2, 5)).Changes.Single(c => c.What is null);
        Assert.True(milder.IsSofter);
        Assert.False(milder.IsRecall);
        Assert.Equal(stricter.Records, milder.Records);
    }

    [Fact]
    public void Only_the_ages_of_an_edited_row_change()
    {
        var old = Table(2, 5, "4;0 to 4;11") + "  5;0 to 5;11  0 to 2  3 to 5  6 to 9\n";
        var edited = Table(2, 5, "4;0 to 4;11") + "  5;0 to 5;11  0 to 3  4 to 5  6 to 9\n";
        Assert.All(Changes(old, edited).Changes, c => Assert.Equal("5;0 to 5;11", c.Ages.ToString()));
    }

    [Fact]
    public void An_action_that_is_gone_recalls()
    {
        var edited = Compiled(Whole(Table(2, 5), "  other \"Other\" within 2 weeks\n    when t is low\n"));
        var changes = EditionChanges.Of(Compiled(Whole(Table(2, 5))), edited)!;
        Assert.Contains(changes.Changes, c => c is { What: null, IsRecall: true, New: "Other", Old: "Look" });
    }

    [Fact]
    public void A_band_of_another_name_is_another_band_though_its_place_is_the_same()
    {
        var renamed = Table(2, 5).Replace("high", "best", StringComparison.Ordinal);
        var change = Assert.Single(Changes(Table(2, 5), renamed).Changes);
        Assert.Equal(("high", "best"), (change.Old, change.New));
    }

    [Fact]
    public void Other_answers_leave_nothing_to_compare()
    {
        var edited = Whole(Table(2, 5)).Replace("item(odd)", "item(three)", StringComparison.Ordinal);
        Assert.Null(EditionChanges.Of(Compiled(Whole(Table(2, 5))), Compiled(edited)));
    }

    private static Protocol Compiled(string fragment) => Proving.Fragment(fragment).Protocol;

    private static EditionChanges Changes(string old, string edited) =>
        EditionChanges.Of(Compiled(Whole(old)), Compiled(Whole(edited)))!;

    private static string Band(int sum, int low, int middle) =>
        sum <= low ? "low"
        : sum <= middle ? "middle"
        : "high";

    private static string Table(int low, int middle, string ages = "4;0 to 5;11") =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"cut-offs t\n  ages  low  middle  high\n  {ages}  0 to {low}  {low + 1} to {middle}  {middle + 1} to 9\n"
        );

    private static string Whole(
        string table,
        string action = "  look \"Look\" within 2 weeks\n    when t is low\n"
    ) =>
        $"{Tasks}{table}  basis provisional \"invented\"\nactions\n{action}"
        + "  finish-it \"Finish\" within 4 weeks, finish\n    when t is undecided\n"
        + "  none \"None\"\n    when no other action applies\n";
}
