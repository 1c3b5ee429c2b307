using ProtocolKit.Model;
using ProtocolKit.Proof.Sampling;

namespace ProtocolKit.Proof.Tests;

/// <summary>The example that is shown is the smallest (core.md R22), held against every sheet ordered by hand.</summary>
public sealed class SmallestRecordTests
{
    private const string Text = """
        section s "S"
          task a item(three)
          task b item(three)
          task c item(yes-no)
          task d item(three)
        score t "T"
          add up rate of every task in s
        """;

    /// <summary>
    /// Fewest answers that differ from the flawless sheet; then fewest steps off; then better answers earlier. The scales have no
    /// holes, so that a step is a point.
    /// </summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    public void R22_the_smallest_record_of_a_total_is_the_first_of_all_sheets_in_order(int total)
    {
        var protocol = Proving.Fragment(Text).Protocol;
        int[] best = [2, 2, 1, 2];
        var sheets =
            from a in Enumerable.Range(0, 3)
            from b in Enumerable.Range(0, 3)
            from c in Enumerable.Range(0, 2)
            from d in Enumerable.Range(0, 3)
            where a + b + c + d == total
            select new[] { a, b, c, d };
        var first = sheets
            .OrderBy(s => s.Zip(best).Count(p => p.First != p.Second))
            .ThenBy(s => s.Zip(best).Sum(p => p.Second - p.First))
            .ThenByDescending(s => s[0])
            .ThenByDescending(s => s[1])
            .ThenByDescending(s => s[2])
            .ThenByDescending(s => s[3])
            .First();
        var found = new SmallestRecords(protocol, new Age(60)).For(new RecordTarget.Total("t", total))!;
        Assert.Equal(first, protocol.Program.Answers.Select(a => (int)found[a.ValueField]));
    }

    [Fact]
    public void R22_a_record_without_untried_answers_is_preferred()
    {
        var protocol = Proving.Fragment(Text).Protocol;
        var found = new SmallestRecords(protocol, new Age(60), untried: true).For(
            new RecordTarget.Total("t", 3)
        )!;
        Assert.All(protocol.Program.Answers, a => Assert.Equal(0, found[a.StateField]));
    }

    /// <summary>A sign that nobody looks for because its task is not given is no difference, as its answer is none.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(8)]
    [InlineData(11)]
    public void R22_what_a_stop_leaves_out_does_not_make_a_record_larger(int total)
    {
        var tasks = string.Concat(
            "abcdefg".Select(t => $"  task {t} item(three)\n    tick slips\n    tick joins\n")
        );
        var protocol = Proving
            .Fragment(
                "observation slips \"slips\"\nobservation joins \"joins in\"\nsection s \"S\"\n  stop after 2 tasks in a row rated 0\n"
                    + tasks
                    + "score t \"T\"\n  add up rate of every task in s\n"
            )
            .Protocol;
        var sheets = Enumerable
            .Range(0, (int)Math.Pow(3, 7))
            .Select(n => Given([.. Enumerable.Range(0, 7).Select(i => n / (int)Math.Pow(3, i) % 3)]))
            .Where(s => s.Sum() == total);
        var first = sheets
            .OrderBy(s => s.Count(r => r != 2))
            .ThenBy(s => s.Sum(r => 2 - r))
            .ThenByDescending(s => string.Concat(s))
            .First();

        var found = new SmallestRecords(protocol, new Age(60)).For(new RecordTarget.Total("t", total))!;

        var answers = protocol.Program.Answers.Where(a => found[a.StateField] == 0);
        Assert.Equal(first, answers.Select(a => (int)found[a.ValueField]));
        Assert.Equal(2 * first.Count, protocol.Program.Observations.Count(o => found[o.Field] == 1));
    }

    /// <summary>The ratings up to the second nought in a row.</summary>
    private static List<int> Given(int[] ratings)
    {
        var stop = Enumerable
            .Range(1, ratings.Length - 1)
            .FirstOrDefault(i => ratings[i - 1] + ratings[i] == 0, ratings.Length);
        return [.. ratings.Take(stop + 1)];
    }
}
