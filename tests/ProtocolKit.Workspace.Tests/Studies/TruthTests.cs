using ProtocolKit.Model;
using ProtocolKit.PilotGenerator;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Tests.Studies;

/// <summary>
/// What a study finds in 180 invented children is what is true of them. The truth comes from the parameters, or from many
/// more children drawn from the same parameters with another seed and plain means over them. Intervals are of 99 %: of ten
/// figures held against intervals of 95 %, one would miss by chance in every other pilot.
/// </summary>
public class TruthTests
{
    private const int Many = 1200;
    private static readonly ProtocolFile File = ProtocolFile.Open(
        Library.PathOf("quillmere-screen.protocol")
    );
    private static readonly Lazy<StudyData> Data = new(() =>
        StudyReader.Read(Library.Quillmere, Library.PilotPath)
    );

    [Fact]
    public void The_second_rater_s_bias_and_error_of_a_reading_lie_within_their_intervals()
    {
        // A count of breaths is read once: difference = 0.5 reading errors, its variance two reading errors and two roundings.
        var breaths = Library.Truth.Numbers["quiet-breaths"];
        var bias = breaths.Reading * Library.Truth.Raters[1].ReadingBias;
        var deviation = Math.Sqrt((2 * breaths.Reading * breaths.Reading) + (2.0 / 12));
        var row = Row("agreement", "items-numbers", "Quiet breaths in a minute");
        Assert.InRange(bias, row[6].Low!.Value, row[6].High!.Value);
        var found = (row[7].High!.Value - row[7].Low!.Value) / (2 * 1.959964);
        // 95 % limits of s/σ with 39 degrees of freedom, from chi-square 23.65 and 58.12 (from memory of printed tables).
        Assert.InRange(found / deviation, Math.Sqrt(23.65 / 39), Math.Sqrt(58.12 / 39));
    }

    [Theory]
    [InlineData("jaw-total")]
    [InlineData("lips-total")]
    [InlineData("tongue-total")]
    [InlineData("order-total")]
    public void The_area_of_many_children_lies_within_the_pilot_s_interval(string score)
    {
        var (cases, others) = Population.Value.Values(score);
        var right = cases.Sum(c =>
            others.Sum(o =>
                c < o ? 1.0
                : c == o ? 0.5
                : 0
            )
        );
        var title = Library.Quillmere.Outcomes.Single(o => o.Name == score).Title;
        var row = Row("cut-offs", "areas", title);
        Assert.InRange(right / ((double)cases.Count * others.Count), row[5].Low!.Value, row[5].High!.Value);
    }

    [Theory]
    [InlineData("mouth-opening")]
    [InlineData("kiss-smile-time")]
    [InlineData("best-phonation")]
    [InlineData("pa-rate")]
    public void The_error_of_a_sitting_of_many_children_lies_within_the_pilot_s_interval(string score)
    {
        var changes = Population.Value.Changes(score);
        var mean = changes.Average();
        var error = Math.Sqrt(changes.Sum(c => (c - mean) * (c - mean)) / (changes.Count - 1) / 2);
        var title = Library.Quillmere.Outcomes.Single(o => o.Name == score).Title;
        var row = Row("change", "error", title);
        Assert.InRange(error, row[4].Low!.Value, row[4].High!.Value);
    }

    /// <summary>The sitting's minutes but those between tasks are the tasks', to a rounding of half a second each.</summary>
    [Fact]
    public void A_sitting_s_tasks_fill_its_minutes_but_those_between_them()
    {
        var tasks = Library.Quillmere.Tasks.Count;
        var whole = Data.Value.Sittings.Where(s => s.Scored.Record.TaskSeconds.Count == tasks).ToList();
        Assert.NotEmpty(whole);
        Assert.All(
            whole,
            s =>
            {
                var minutes = (double)s.Minutes!.Value.Numerator - Library.Truth.Times.MinutesBetween;
                Assert.InRange(
                    s.Scored.Record.TaskSeconds.Values.Sum() - (60 * minutes),
                    -tasks / 2.0,
                    tasks / 2.0
                );
            }
        );
    }

    private static IReadOnlyList<EvidenceCell> Row(string kind, string table, string first) =>
        StudyRunner
            .Run(
                File,
                kind,
                Data.Value,
                new StudyOptions { Resamples = 20, Confidence = 0.99 },
                wholeProof: false
            )
            .Report.Tables.Single(t => t.Name == table)
            .Rows.Single(r => r[0].Text == first);

    private static readonly Lazy<Drawn> Population = new(() => new Drawn());

    /// <summary>Many children of the same truth, seen twice.</summary>
    private sealed class Drawn
    {
        private readonly List<(Child Child, ScoredRecord First, ScoredRecord Second)> _children;

        public Drawn()
        {
            var truth = Library.Truth;
            var pilot = new Pilot(truth, Library.Quillmere);
            _children =
            [
                .. Enumerable
                    .Range(0, Many)
                    .Select(i => new Child(
                        truth,
                        truth.Seed + 1 + (ulong)(i / truth.Children),
                        i % truth.Children
                    ))
                    .Select(c => (c, Score(pilot.Row(c, 1, 0)), Score(pilot.Row(c, 2, 0)))),
            ];
        }

        public (List<double> Cases, List<double> Others) Values(string score)
        {
            var known = _children
                .Select(c => (c.Child.IsReferenceCase, Value: Exact(c.First, score)))
                .Where(c => c.Value is not null)
                .ToList();
            return (
                [.. known.Where(k => k.IsReferenceCase).Select(k => k.Value!.Value)],
                [.. known.Where(k => !k.IsReferenceCase).Select(k => k.Value!.Value)]
            );
        }

        public List<double> Changes(string score) =>
            [.. _children.Select(c => Exact(c.Second, score) - Exact(c.First, score)).OfType<double>()];

        private static ScoredRecord Score(PilotRow row) => Scorer.Score(Library.Quillmere, row.Record);

        private static double? Exact(ScoredRecord record, string score) =>
            record.Outcomes.Single(o => o.Outcome.Name == score) is { IsExact: true } value
                ? (double)value.Low.Numerator / (double)value.Low.Denominator
                : null;
    }
}
