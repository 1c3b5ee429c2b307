using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Emit.Tests.Reports;

/// <summary>The three answers, and a plot that agrees with them.</summary>
public class ReTestTests
{
    private static readonly ScoredRecord March = Example.Scored("qc-0417");

    [Fact]
    public void Each_answer_is_told_with_the_change_the_error_and_its_basis()
    {
        var june = Example.Scored(
            "qc-0417",
            ("2026-03-04", "2026-06-01"),
            ("age-months: 51", "age-months: 54"),
            ("pa-run.syllables.trial-2: 14", "pa-run.syllables.trial-2: 20"),
            ("strip-grip.rate.trial-1: refused", "strip-grip.rate.trial-1: 2"),
            ("kiss.rate.trial-1: 2", "kiss.rate.trial-1: 0\n  kiss.rate.trial-2: 0")
        );
        var report = ReTestReports.Of([March, june]);
        var says = report.Values.ToDictionary(v => v.ReTest.Outcome.Name, v => Assert.Single(v.Answers));
        Assert.Equal(ChangeAnswer.WithinError, says["jaw-total"].Answer);
        Assert.Equal(ChangeAnswer.BeyondError, says["pa-rate"].Answer);
        Assert.StartsWith(
            "up by 1.5 syllables/s: beyond the error",
            says["pa-rate"].Says,
            StringComparison.Ordinal
        );
        var html = ReTestPage.Render(report, OutputOptions.Default, TemplateSource.BuiltIn).Text;
        Assert.Contains("2026-03-04 to 2026-06-01", html, StringComparison.Ordinal);
        Assert.Contains(
            "That shows neither a change nor that there is none.",
            html,
            StringComparison.Ordinal
        );
        Assert.Contains(
            "Standard error of one sitting 0.93 (0.75 to 1.24): change study of the invented pilot, same rater",
            html,
            StringComparison.Ordinal
        );
        Assert.Contains("sittings 10 to 14 weeks apart", html, StringComparison.Ordinal);
        Assert.Contains("A screen makes no diagnosis.", html, StringComparison.Ordinal);
    }

    [Fact]
    public void It_cannot_be_said_after_the_wrong_time_or_with_another_form()
    {
        var soon = Example.Scored("qc-0417", ("2026-03-04", "2026-03-20"));
        Assert.All(
            ReTestReports.Of([March, soon]).Values.SelectMany(v => v.Answers),
            a =>
            {
                Assert.Equal(ChangeAnswer.CannotSay, a.Answer);
                Assert.StartsWith(
                    "cannot say. The error is known for sittings 10 to 14 weeks apart",
                    a.Says,
                    StringComparison.Ordinal
                );
            }
        );
    }

    [Fact]
    public void Three_sittings_are_compared_one_after_the_other_and_last_with_first()
    {
        var report = ReTestReports.Of([
            March,
            Example.Scored("qc-0417", ("2026-03-04", "2026-06-01")),
            Example.Scored("qc-0417", ("2026-03-04", "2026-08-20")),
        ]);
        Assert.All(
            report.Values,
            v => Assert.Equal([(0, 1), (1, 2), (0, 2)], v.Answers.Select(a => (a.From, a.To)))
        );
    }

    [Fact]
    public void Bars_touch_exactly_where_the_change_is_within_the_error()
    {
        var reTest = Example.Protocol.ReTests.Single(r => r.Outcome.Name == "jaw-total");
        var (apart, touching) = (0, 0);
        for (var tenths = 1; tenths <= 30; tenths++)
        {
            for (var change = 0; change <= 12; change++)
            {
                var error = new Rational(tenths, 10);
                var value = new ReTestValue(
                    reTest with
                    {
                        Error = error,
                    },
                    [(0, 0), (change, change)],
                    [],
                    ""
                );
                var gap = Gap(value);
                // A pixel to each side is the drawing's rounding.
                if (Math.Abs(gap) <= 2)
                {
                    continue;
                }

                Assert.Equal(Changes.IsBeyond(change, error), gap > 0);
                apart += gap > 0 ? 1 : 0;
                touching += gap > 0 ? 0 : 1;
            }
        }

        Assert.True(apart > 50 && touching > 50, $"{apart} apart, {touching} touching");
    }

    [Fact]
    public void The_plot_says_in_words_all_that_it_draws()
    {
        var report = ReTestReports.Of([March, Example.Scored("qc-0417", ("2026-03-04", "2026-06-01"))]);
        var lips = report.Values.Single(v => v.ReTest.Outcome.Name == "lips-total");
        var chart = SittingsChart.Of(report.Sittings, lips);
        Assert.Equal(
            "2026-03-04 between 8 and 10; 2026-06-01 between 8 and 10. Standard error of one sitting 1.13.",
            chart.InWords
        );
        Assert.Empty(chart.Marks);
        Assert.Equal(2, chart.Lines.Count(l => l.Style == "thick"));
    }

    /// <summary>Pixels between the end of the first bar and the start of the second; negative where they overlap.</summary>
    private static int Gap(ReTestValue value)
    {
        var chart = SittingsChart.Of([new("a", ""), new("b", "")], value);
        var bars = chart
            .Lines.Where(l => l is { Style: "solid" } && l.X1 == l.X2)
            .OrderBy(l => l.X1)
            .ToList();
        var (first, second) = (bars[0], bars[1]);
        return Math.Min(first.Y1, first.Y2) - Math.Max(second.Y1, second.Y2);
    }
}
