using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Calibration.Tests;

/// <summary>
/// Values are counted in two ways: few whole ones packed into one sum, all others looked up. Halves added to whole numbers
/// take the other way and must change nothing.
/// </summary>
public class CoincidenceTests
{
    [Property(MaxTest = 300, QuietOnSuccess = true)]
    public Property Both_ways_of_counting_give_the_same_coincidences() =>
        Prop.ForAll(
            Tables().ToArbitrary(),
            table => Told(table, 0) == Told(table, 0.5) && Told(table, 0) == Told(table, -3)
        );

    [Theory]
    [InlineData(255)] // the most a byte holds
    [InlineData(256)]
    [InlineData(700)]
    public void Many_raters_of_one_mind_are_all_counted(int raters)
    {
        double?[][] rows =
        [
            .. Enumerable.Range(0, 3).Select(u => Enumerable.Repeat((double?)u, raters).ToArray()),
        ];
        var coincidences = KrippendorffAlpha.Of(RatingMatrix.FromRows(rows)).Coincidences();
        Assert.Equal([raters, raters, raters], coincidences.Totals);
    }

    [Fact]
    public void Ratings_that_are_all_missing_are_refused()
    {
        double?[][] rows =
        [
            [null, null],
            [null, null],
        ];
        var refused = Assert.Throws<NotEstimableException>(() =>
            KrippendorffAlpha.Of(RatingMatrix.FromRows(rows))
        );
        Assert.Contains("Units with two or more values", refused.Message, StringComparison.Ordinal);
    }

    private static Gen<double?[][]> Tables() =>
        from levels in Gen.Choose(1, 8)
        from raters in Gen.Choose(2, 13)
        from units in Gen.Choose(1, 9)
        let cell = Gen.Choose(-1, levels - 1).Select(v => v < 0 ? (double?)null : v)
        from rows in cell.ArrayOf(raters).ArrayOf(units)
        select rows;

    private static string Told(double?[][] table, double added)
    {
        double?[][] moved = [.. table.Select(row => row.Select(v => v + added).ToArray())];
        try
        {
            var found = KrippendorffAlpha.Of(RatingMatrix.FromRows(moved)).Coincidences();
            var values = found.Values.Select(v => v - added);
            return string.Join(' ', values.Concat(found.Totals).Concat(found.Matrix.SelectMany(r => r)));
        }
        catch (NotEstimableException refused)
        {
            return refused.Message;
        }
    }
}
