using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Sampling;
using ProtocolKit.Proof.Tests.Oracle;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Tests.Sampling;

/// <summary>Every record that comes to a target is drawn, no other is, and each is as likely as the next.</summary>
public sealed class SamplerTests
{
    private static readonly int[] YesNo = [0, 1];
    private static readonly int[] Three = [0, 1, 2];

    private const string Screen = """
        section s "S"
          task a item(three)
          task b item(three)
          task c item(three) each side left, right
        score t "T"
          add up rate of every task in s
        cut-offs t
          ages          refer   watch   expected
          4;0 to 4;11   0 to 2  3 to 5  6 to 8
          5;0 to 5;11   0 to 3  4 to 5  6 to 8
          basis provisional "x"
        actions
          see "See" within 2 weeks
            when t is refer
          again "Again" within 12 weeks
            when t is watch or worse
          finish-it "Finish" within 4 weeks, finish
            when any band is undecided
          none "None"
            when no other action applies

        """;

    private const string Stops = """
        section s "S"
          task a item(yes-no)
          task b item(yes-no)
          task c item(yes-no)
          task d item(yes-no)
          task e item(yes-no)
          stop after 2 tasks in a row rated 0
        score t "T"
          add up rate of every task in s

        """;

    private const string Trials = """
        section s "S"
          task a
            trials up to 2, second when rate below 2, keep highest rate
            rate three
          task b
            trials up to 2, second when rate below 2, keep highest rate
            rate three
        score t "T"
          add up rate of every task in s

        """;

    private static readonly AgeRange FourYears = new(new Age(48), new Age(48));

    [Fact]
    public void Bands_headlines_and_actions_are_counted_as_brute_force_counts_them()
    {
        var protocol = Proving.Fragment(Screen).Protocol;
        var totals = new BruteForce(Three, Three, Three, Three)
            .Sheets(0)
            .Select(s => s.Sum()!.Value)
            .ToList();
        foreach (var (age, refer) in new[] { (48, 2), (60, 3) })
        {
            var counter = new RecordCounter(protocol, new Age(age));
            BigInteger low = totals.Count(t => t <= refer);
            BigInteger middle = totals.Count(t => t > refer && t <= 5);
            BigInteger high = totals.Count(t => t > 5);
            Assert.Equal(81, low + middle + high);
            Assert.Equal(
                [("refer", low), ("watch", middle), ("expected", high)],
                counter.ByBand("t").Where(b => b.Records > 0)
            );
            Assert.Equal(
                [("see", low), ("again", middle), ("finish-it", 0), ("none", high)],
                counter.ByHeadline()
            );
            Assert.Equal(
                [("see", low), ("again", low + middle), ("finish-it", 0), ("none", high)],
                counter.ByAction()
            );
        }
    }

    [Fact]
    public void Undecided_records_are_counted_where_answers_may_be_untried()
    {
        var protocol = Proving.Fragment(Screen).Protocol;
        var counter = new RecordCounter(protocol, new Age(48), untried: true);

        // An untried answer has seven reasons, each a record of its own; it ranges from 0 to 2.
        var byBand = new BruteForce(Three, Three, Three, Three)
            .Sheets(4)
            .GroupBy(s => (Band(s, 0), Band(s, 2)) is var (low, high) && low == high ? low : "undecided")
            .ToDictionary(
                g => g.Key,
                g =>
                    g.Aggregate(BigInteger.Zero, (sum, s) => sum + BigInteger.Pow(7, s.Count(a => a is null)))
            );

        Assert.Equal(
            byBand.OrderBy(b => b.Key, StringComparer.Ordinal).Select(b => (b.Key, b.Value)),
            counter.ByBand("t").Where(b => b.Records > 0).OrderBy(b => b.Band, StringComparer.Ordinal)
        );
        Assert.Equal(10_000, byBand.Values.Aggregate(BigInteger.Add));

        static string Band(int?[] sheet, int untried) =>
            sheet.Sum(a => a ?? untried) switch
            {
                <= 2 => "refer",
                <= 5 => "watch",
                _ => "expected",
            };
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(8)]
    public void Records_with_a_total_are_equally_likely(int total)
    {
        var protocol = Proving.Fragment(Screen).Protocol;
        var expected = new BruteForce(Three, Three, Three, Three)
            .Sheets(0)
            .Where(s => s.Sum() == total)
            .Select(s => string.Join(' ', s))
            .ToList();
        AreEquallyLikely(protocol, new RecordTarget.Total("t", total), expected, 3000);
    }

    [Fact]
    public void Records_that_a_stop_rule_shapes_are_equally_likely()
    {
        var protocol = Proving.Fragment(Stops).Protocol;
        var all = new BruteForce(YesNo, YesNo, YesNo, YesNo, YesNo)
            .Sheets(0)
            .Select(Given)
            .Distinct(StringComparer.Ordinal)
            .ToList();
        Assert.Equal(20, all.Count);
        AreEquallyLikely(protocol, new RecordTarget.Any(), all, 4000);
        var threes = all.Where(s => s.Count(c => c == '1') == 3).ToList();
        AreEquallyLikely(protocol, new RecordTarget.Total("t", 3), threes, 3000);

        static string Given(int?[] sheet)
        {
            var text = string.Join(' ', sheet);
            var stop = text.IndexOf("0 0", StringComparison.Ordinal);
            var given = stop < 0 ? text : text[..(stop + 3)];
            return string.Join(' ', given.Split(' ').Concat(Enumerable.Repeat("-", 5)).Take(5));
        }
    }

    [Fact]
    public void Second_trials_are_there_when_they_are_due_and_records_equally_likely()
    {
        var protocol = Proving.Fragment(Trials).Protocol;
        var task = new List<(string Text, int Kept)> { ("2 -", 2) };
        foreach (var first in new[] { 0, 1 })
        {
            task.AddRange(Three.Select(second => ($"{first} {second}", Math.Max(first, second))));
        }

        var both = task.SelectMany(a =>
                task.Select(b => (Text: $"{a.Text} {b.Text}", Total: a.Kept + b.Kept))
            )
            .ToList();
        Assert.Equal(49, both.Count);
        AreEquallyLikely(protocol, new RecordTarget.Any(), [.. both.Select(b => b.Text)], 9000);
        foreach (var total in Enumerable.Range(0, 5))
        {
            var expected = both.Where(b => b.Total == total).Select(b => b.Text).ToList();
            AreEquallyLikely(protocol, new RecordTarget.Total("t", total), expected, 3000);
        }
    }

    [Fact]
    public void Ages_are_drawn_in_proportion_to_the_records_they_have()
    {
        var protocol = Proving.Fragment(Screen).Protocol;
        var sampler = new RecordSampler(protocol);
        var totals = new BruteForce(Three, Three, Three, Three)
            .Sheets(0)
            .Select(s => s.Sum()!.Value)
            .ToList();
        var (young, old) = (totals.Count(t => t <= 2), totals.Count(t => t <= 3));
        var target = new RecordTarget.Band("t", "refer");
        Assert.Equal(12 * (young + old), sampler.Count(target));

        var months = sampler
            .Draw(target, 12_000, 5)
            .GroupBy(f => f[protocol.Program.AgeField])
            .ToDictionary(g => g.Key, g => g.Count());
        Assert.Equal(24, months.Count);
        ChiSquare.Fits([.. months.Where(m => m.Key < 60).Select(m => m.Value)]);
        ChiSquare.Fits([.. months.Where(m => m.Key >= 60).Select(m => m.Value)]);
        var share = months.Where(m => m.Key < 60).Sum(m => m.Value) / 12_000.0;
        var expected = young / (double)(young + old);
        Assert.InRange(share, expected - 0.02, expected + 0.02);
    }

    [Fact]
    public void Every_kind_of_target_is_met_by_what_is_drawn()
    {
        var protocol = Proving.Fragment(Screen).Protocol;
        var program = protocol.Program;
        var sampler = new RecordSampler(protocol, untried: true);

        var undecided = sampler.Draw(new RecordTarget.Band("t", "undecided"), 200, 1).ToList();
        Assert.All(undecided, f => Assert.Equal(3, Evaluator.Run(program, f)[program.Bands[0].Line]));
        var again = sampler.Draw(new RecordTarget.Headline("again"), 200, 2).ToList();
        Assert.All(again, f => Assert.Equal(1, Evaluator.Run(program, f)[program.HeadlineLine]));
        var included = sampler.Draw(new RecordTarget.Includes("again"), 400, 3).ToList();
        Assert.Contains(included, f => Evaluator.Run(program, f)[program.HeadlineLine] == 0);
        Assert.All(included, f => Assert.Equal(1, Evaluator.Run(program, f)[program.Actions[1].AppliesLine]));
        var between = sampler.Draw(new RecordTarget.Between("t", 3, 4), 200, 4).ToList();
        Assert.Equal(
            [3L, 4L],
            between.Select(f => Evaluator.Run(program, f)[program.Outcomes[0].LowLine]).Distinct().Order()
        );
    }

    [Fact]
    public void The_same_seed_gives_the_same_records_and_another_seed_others()
    {
        var protocol = Proving.Fragment(Screen).Protocol;
        var target = new RecordTarget.Any();
        Assert.Equal(
            new RecordSampler(protocol).Draw(target, 50, 9),
            new RecordSampler(protocol).Draw(target, 50, 9)
        );
        Assert.NotEqual(
            new RecordSampler(protocol).Draw(target, 50, 9),
            new RecordSampler(protocol).Draw(target, 50, 10)
        );
    }

    [Fact]
    public void What_no_record_reaches_gives_no_records_and_an_unknown_name_is_refused()
    {
        var sampler = new RecordSampler(Proving.Fragment(Screen).Protocol);
        Assert.Equal(0, sampler.Count(new RecordTarget.Total("t", 9)));
        Assert.Empty(sampler.Draw(new RecordTarget.Total("t", 9), 5, 1));
        Assert.Throws<ArgumentException>(() => sampler.Count(new RecordTarget.Total("u", 1)));
        Assert.Throws<ArgumentException>(() => sampler.Count(new RecordTarget.Band("t", "fine")));
        Assert.Throws<ArgumentException>(() => sampler.Count(new RecordTarget.Headline("nothing")));
    }

    [Fact]
    public void Edges_have_the_smallest_record_and_one_at_random_for_each_value_beside_a_limit()
    {
        var protocol = Proving.Fragment(Screen).Protocol;
        var edges = EdgeRecords.Of(protocol, 1).ToList();

        // Limits 0 2 3 5 6 8 at four years, 0 3 4 5 6 8 at five; a step beside each: every total from 0 to 8, but 0 to 8 only.
        var young = edges.Where(e => e.Fields[protocol.Program.AgeField] < 60).ToList();
        Assert.Equal(
            Enumerable.Range(0, 9),
            young.Where(e => e.Smallest).Select(e => (int)e.Value.Numerator)
        );
        Assert.Equal(18, young.Count);
        Assert.All(
            edges,
            e =>
                Assert.Equal(
                    e.Value,
                    Evaluator.Run(protocol.Program, e.Fields)[protocol.Program.Outcomes[0].LowLine]
                )
        );
        Assert.Equal("watch", young.First(e => e.Value == 3).Band);
        Assert.Equal("refer", edges.Except(young).First(e => e.Value == 3).Band);

        // The smallest record one step below the best: the last task, one level off.
        Assert.Equal("2 2 2 1", Text(protocol, young.First(e => e.Value == 7 && e.Smallest).Fields));
    }

    private static void AreEquallyLikely(
        Protocol protocol,
        RecordTarget target,
        List<string> expected,
        int draws
    )
    {
        var sampler = new RecordSampler(protocol, FourYears);
        Assert.Equal(expected.Count, sampler.Count(target));
        var found = sampler
            .Draw(target, draws, 20260101)
            .GroupBy(f => Text(protocol, f))
            .ToDictionary(g => g.Key, g => g.Count(), StringComparer.Ordinal);
        Assert.Equal(expected.Order(StringComparer.Ordinal), found.Keys.Order(StringComparer.Ordinal));
        if (expected.Count > 1)
        {
            ChiSquare.Fits(found.Values);
        }
    }

    /// <summary>Answers in giving order, a dash for a blank.</summary>
    private static string Text(Protocol protocol, IReadOnlyList<long> fields) =>
        string.Join(
            ' ',
            protocol.Program.Answers.Select(a => fields[a.StateField] == 0 ? $"{fields[a.ValueField]}" : "-")
        );
}
