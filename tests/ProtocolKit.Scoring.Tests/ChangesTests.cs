using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>Two sittings of one child: beyond the error, within it, or not to be said.</summary>
public sealed class ChangesTests
{
    /// <summary>
    /// Smallest detectable changes at 95%, rounded to two digits: Weir JP (2005), J Strength Cond Res 19:231-240, data set A
    /// (SEM 7.556927, minimal difference 20.946), and SD 4 with reliability .84 (SEM 1.6, 4.435), worked out with numpy.
    /// </summary>
    [Theory]
    [InlineData("7.556927", "20.94", "20.96")]
    [InlineData("1.6", "4.43", "4.44")]
    public void The_threshold_is_the_smallest_detectable_change(string error, string within, string beyond)
    {
        Assert.False(Changes.IsBeyond(Number(within), Number(error)));
        Assert.False(Changes.IsBeyond(-Number(within), Number(error)));
        Assert.True(Changes.IsBeyond(Number(beyond), Number(error)));
        Assert.True(Changes.IsBeyond(-Number(beyond), Number(error)));
    }

    [Theory]
    [InlineData("0 0 0", "2 2 2", ChangeAnswer.BeyondError, 6, 6)]
    [InlineData("2 2 2", "0 0 0", ChangeAnswer.BeyondError, -6, -6)]
    [InlineData("0 0 0", "1 1 1", ChangeAnswer.WithinError, 3, 3)]
    [InlineData("0 0 0", "2 2 refused", ChangeAnswer.CannotSay, 4, 6)]
    [InlineData("1 1 1", "1 1 refused", ChangeAnswer.WithinError, -1, 1)]
    public void Three_answers_from_two_sittings(
        string before,
        string after,
        ChangeAnswer answer,
        int least,
        int most
    )
    {
        var result = Between(Sitting("2026-03-04", before), Sitting("2026-05-20", after));
        Assert.Equal(answer, result.Answer);
        Assert.Equal(least, result.Least);
        Assert.Equal(most, result.Most);
        Assert.Equal(answer == ChangeAnswer.CannotSay, result.Why.Length > 0);
    }

    [Theory]
    [InlineData("2026-05-12", ChangeAnswer.CannotSay)] // 69 days: nine weeks and six days
    [InlineData("2026-05-13", ChangeAnswer.BeyondError)] // ten weeks
    [InlineData("2026-06-16", ChangeAnswer.BeyondError)] // fourteen weeks and six days
    [InlineData("2026-06-17", ChangeAnswer.CannotSay)]
    public void Outside_the_time_the_error_is_known_for_nothing_is_said(string day, ChangeAnswer answer) =>
        Assert.Equal(answer, Between(Sitting("2026-03-04", "0 0 0"), Sitting(day, "2 2 2")).Answer);

    [Fact]
    public void Records_that_can_not_be_compared_are_refused()
    {
        var (first, second) = (Sitting("2026-03-04", "0 0 0"), Sitting("2026-05-20", "2 2 2"));
        Assert.Throws<ArgumentException>(() => Changes.Between(second, first));
        var other = second with { Record = second.Record with { Case = "QC-2" } };
        Assert.Throws<ArgumentException>(() => Changes.Between(first, other));
    }

    private static Rational Number(string text)
    {
        Assert.True(Rational.TryParse(text, out var value));
        return value;
    }

    private static ChangeResult Between(ScoredRecord first, ScoredRecord second) =>
        Changes.Between(first, second).Single();

    private static ScoredRecord Sitting(string day, string ratings)
    {
        var rates = ratings.Split(' ');
        var text = Records
            .With("2026-03-04", day)
            .Replace("tip-chin.rate: 2", $"tip-chin.rate: {rates[0]}", StringComparison.Ordinal)
            .Replace(
                "tip-corner.rate.right: 2",
                $"tip-corner.rate.right: {rates[1]}",
                StringComparison.Ordinal
            )
            .Replace(
                "tip-corner.rate.left: 1",
                $"tip-corner.rate.left: {rates[2]}",
                StringComparison.Ordinal
            );
        var protocol = Tiny.Protocol with
        {
            ReTests =
            [
                new ReTest(
                    Tiny.TongueTotal,
                    new Rational(16, 10),
                    "invented",
                    40,
                    "10 to 14 weeks",
                    Origin.None
                )
                {
                    Between = new Wait(10, 14, WaitUnit.Weeks),
                },
            ],
        };
        return Scorer.Score(protocol, Records.Sitting(text));
    }
}
