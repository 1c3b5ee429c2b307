using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Tests.Oracle;

namespace ProtocolKit.Proof.Tests;

/// <summary>Stop rules: what a record can hold depends on what came before. Held against brute force over the ratings.</summary>
public sealed class RoutingTests
{
    private static readonly int[] YesNo = [0, 1];
    private static readonly int[] Three = [0, 1, 2];

    private const string FiveTasks = """
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

    /// <summary>The answers given before two zeros in a row end the section, each sheet once.</summary>
    private static IEnumerable<int[]> Canonical(params int[][] levels) =>
        new BruteForce(levels)
            .Sheets(0)
            .Select(s => Given(s))
            .GroupBy(s => string.Join(' ', s), StringComparer.Ordinal)
            .Select(g => g.First());

    private static int[] Given(int?[] sheet)
    {
        var given = new List<int>();
        foreach (var answer in sheet)
        {
            given.Add(answer!.Value);
            if (given is [.., 0, 0])
            {
                break;
            }
        }

        return [.. given];
    }

    [Fact]
    public void O4_what_a_stop_rule_makes_true()
    {
        var proving = Proving.Fragment(
            FiveTasks
                + """
                claim "late success, one" when e = 1 then t >= 3
                claim "late success, two" when e = 1 then t >= 4
                """
        );
        var sheets = Canonical(YesNo, YesNo, YesNo, YesNo, YesNo).ToList();
        Assert.Equal(20, sheets.Count);
        var counts = new RecordCounter(proving.Protocol, new Age(48)).ByValue("t");
        Assert.Equal([1, 2, 4, 7, 5, 1], counts.Values.Select(c => (int)c));
        Assert.Equal(
            sheets
                .GroupBy(s => s.Sum())
                .OrderBy(g => g.Key)
                .Select(g => ((Rational)g.Key, (BigInteger)g.Count())),
            counts.Select(c => (c.Key, c.Value))
        );
        Assert.Equal(20, proving.Report.Records!.Complete);
        Assert.Equal([(Rational)0, 1, 2, 3, 4, 5], proving.Set("t"));
        Assert.Contains(
            proving.Report.Proved,
            p => p.Text.Contains("success, one", StringComparison.Ordinal)
        );
        var failed = Assert.Single(proving.Of(ProofKind.ClaimFails));
        Assert.Contains("success, two", failed.Text, StringComparison.Ordinal);
        Assert.Equal("a.rate=1 b.rate=0 c.rate=1 d.rate=0 e.rate=1", proving.Record(failed.Sittings[0]));
    }

    [Fact]
    public void O20_sides_count_for_the_stop_rule()
    {
        var proving = Proving.Fragment(
            """
            section s "S"
              task x item(three) each side left, right
              task y item(three)
              stop after 2 tasks in a row rated 0
            score t "T"
              add up rate of every task in s
            claim "one" when y = 2 then t >= 3
            claim "two" when y = 2 then t >= 4
            """
        );
        Assert.Equal(
            Canonical(Three, Three, Three).Select(s => s.Sum()).Distinct().Order().Select(t => (Rational)t),
            proving.Set("t")
        );
        var failed = Assert.Single(proving.Of(ProofKind.ClaimFails));
        Assert.Equal("x.rate.left=1 x.rate.right=0 y.rate=2", proving.Record(failed.Sittings[0]));
        Assert.Equal(3, proving.Score(failed.Sittings[0])[proving.Protocol.Program.Outcomes[0].LowLine]);
    }

    [Fact]
    public void An_untried_answer_breaks_the_run()
    {
        var proving = Proving.Fragment(
            FiveTasks + "claim \"always stopped\" when (a = 0 and c = 0) then e is untried\n"
        );
        var failed = Assert.Single(proving.Of(ProofKind.ClaimFails));
        Assert.Equal("a.rate=0 b.rate=1 c.rate=0 d.rate=1 e.rate=1", proving.Record(failed.Sittings[0]));
    }
}
