using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Model;
using ProtocolKit.Proof.Sampling;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Testing.Tests;

/// <summary>Records drawn for what they come to. The total of the sample screen is worked out here from the answers.</summary>
public class SampledRecordsTests
{
    private static readonly Protocol Screen = SampleScreen.Protocol();
    private static readonly ScoringProgram Program = Screen.Program;

    // The five lines with which a developer tests a rubric.
    [Property]
    public Property Every_record_drawn_with_a_total_of_4_has_it() =>
        Prop.ForAll(Records.With(Screen, "total", 4), record => TotalOf(record) == 4);

    [Fact]
    public void A_property_that_fails_is_shown_by_the_smallest_record_with_the_same_total()
    {
        var four = Records.With(Screen, "total", 4);
        var start = four.Generator.Sample(20).First(f => f[Program.AgeField] > 50);
        Assert.Equal(4, TotalOf(start));

        var end = start;
        while (four.Shrinker(end).FirstOrDefault() is { } simpler)
        {
            Assert.Equal(4, TotalOf(simpler));
            end = simpler;
        }

        // One answer two levels off differs less than two answers one level off; the later answer is the one to go.
        Assert.Equal(
            ["corner.rate.left: 0 (not 2)"],
            PlainRecord
                .From(Screen, end)
                .DifferencesFrom(PlainRecord.From(Screen, Records.Flawless(Screen)))
                .Where(d =>
                    d.StartsWith("corner", StringComparison.Ordinal)
                    || d.StartsWith("kiss.r", StringComparison.Ordinal)
                )
        );
    }

    [Fact]
    public void Records_at_edges_have_the_values_on_both_sides_of_every_limit()
    {
        var totals = Records
            .AtEdges(Screen)
            .Generator.Sample(600, Rnd(3), 50)
            .Where(f =>
                Enumerable.All(Program.Answers, a => f[a.StateField] <= 1) && f[Program.FormField] == 0
            )
            .Select(TotalOf)
            .ToHashSet();
        Assert.Superset(Enumerable.Range(0, 7).Select(t => (long)t).ToHashSet(), totals);
    }

    [Fact]
    public void Exactly_sampled_records_come_to_every_band_and_are_the_same_for_the_same_seed()
    {
        var records = Records.Sampled(Screen, 400, 3).ToList();
        Assert.Equal(records, Records.Sampled(Screen, 400, 3));
        Assert.NotEqual(records.Take(20), Records.Sampled(Screen, 20, 4));
        Assert.True(records.Count > 60);
        Assert.Contains(
            records,
            f => Enumerable.Any(Program.Answers, a => ((State)f[a.StateField]).IsUntried())
        );
        Assert.Superset(
            new HashSet<long> { 0, 2, 3, 6 },
            records.Where(f => f[Program.FormField] == 0).Select(TotalOf).ToHashSet()
        );
        Assert.Equal(3, Records.Sampled(Screen, 3, 3).Count());
    }

    [Fact]
    public void A_total_that_no_record_has_is_refused()
    {
        var refused = Assert.Throws<ArgumentException>(() => Records.With(Screen, "total", 7));
        Assert.StartsWith("No record comes to", refused.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => Records.With(Screen, new RecordTarget.Headline("dance")));
    }

    private static Rnd Rnd(ulong seed) => new(seed, 1);

    /// <summary>The kept trial of the kiss, and both corners.</summary>
    private static long TotalOf(long[] fields)
    {
        long Points(string key)
        {
            var answer = Program.Answers.First(a => a.Key == key);
            return fields[answer.StateField] == 0 ? fields[answer.ValueField] : 0;
        }

        return Math.Max(Points("kiss.rate.trial-1"), Points("kiss.rate.trial-2"))
            + Points("corner.rate.left")
            + Points("corner.rate.right");
    }
}
