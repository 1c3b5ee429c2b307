using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// R2: the kept trial, then the cost of help, then the policy for untried answers. What counts is worked out here on points, without
/// the compiler or the evaluator.
/// </summary>
public sealed class R02HelpTests
{
    private const string Costed = """
        task a
          trials 2, keep highest rate
          rate three
          help shown (start), said again, started together (costs 1), moved by hand (costs 2)
        score t "T" = 1 * a

        """;

    private static readonly string[] Rungs = ["moved by hand", "started together", "said again", "none"];
    private static readonly int[] Costs = [2, 1, 0, 0];

    [Fact]
    public void R2_every_sheet_counts_the_kept_trial_or_what_help_brought_less_its_cost()
    {
        var compiled = Compiled.Fragment(Costed);
        Assert.Equal(
            Rungs[..3],
            compiled.Program.Answers.First(s => s.IsHelp).Response.Options.Take(3).Select(o => o.Text)
        );
        for (var first = 0; first <= 2; first++)
        {
            for (var second = 0; second <= 2; second++)
            {
                for (var rung = 0; rung < Rungs.Length; rung++)
                {
                    for (var aided = 0; aided <= 2; aided++)
                    {
                        var record = compiled.Lowest();
                        compiled.Set(record, "a.rate.trial-1", first);
                        compiled.Set(record, "a.rate.trial-2", second);
                        compiled.Set(record, "a.help", rung);
                        var isHelped = Rungs[rung] != "none";
                        compiled.Set(
                            record,
                            "a.rate.with-help",
                            isHelped ? aided : 0,
                            isHelped ? State.Known : State.NotApplicable
                        );
                        var alone = Math.Max(first, second);
                        var expected = isHelped ? Math.Max(alone, Math.Max(0, aided - Costs[rung])) : alone;
                        Assert.Equal(expected, compiled.Value("t", compiled.Run(record)));
                    }
                }
            }
        }
    }

    [Fact]
    public void R2_without_a_kept_trial_the_policy_for_untried_answers_rules()
    {
        foreach (var (policy, isBlocked) in new[] { ("", false), ("  untried blocks\n", true) })
        {
            var compiled = Compiled.Fragment(
                Costed.Replace(
                    "score t \"T\" = 1 * a\n",
                    "score t \"T\"\n  = 1 * a\n" + policy,
                    StringComparison.Ordinal
                )
            );
            var record = compiled.Lowest();
            compiled.Set(record, "a.rate.trial-1", 0, State.Refused);
            compiled.Set(record, "a.rate.trial-2", 0, State.Refused);
            compiled.Set(record, "a.help", 1);
            compiled.Set(record, "a.rate.with-help", 2);
            var lines = compiled.Run(record);
            var state = lines[compiled.Program.Outcomes.Single().StateLine];
            Assert.Equal(isBlocked ? (long)State.Refused : 0, state);
            if (!isBlocked)
            {
                Assert.Equal(((Rational)0, (Rational)2), compiled.Ends("t", lines));
            }
        }
    }

    [Fact]
    public void R2_where_less_is_better_help_adds_its_cost()
    {
        var compiled = Compiled.Fragment(
            """
            scale slips, lower is better
              2 "Many."
              1 "Few."
              0 "None."
            task a
              rate slips
              help said again (costs 1)
            score t "T" = 1 * a
            """
        );
        for (var alone = 0; alone <= 2; alone++)
        {
            for (var aided = 0; aided <= 2; aided++)
            {
                var record = compiled.Lowest();
                compiled.Set(record, "a.rate", alone);
                compiled.Set(record, "a.help", 0);
                compiled.Set(record, "a.rate.with-help", aided);
                Assert.Equal(Math.Min(alone, aided + 1), compiled.Value("t", compiled.Run(record)));
            }
        }
    }

    [Fact]
    public void Help_without_a_cost_leaves_the_score_alone_and_is_reported_beside_it()
    {
        var compiled = Compiled.Fragment(
            "task a\n  rate three\n  help shown (start), said again, started together\nscore t \"T\" = 1 * a\n"
        );
        Assert.DoesNotContain(compiled.Program.Answers, a => a.IsHelp);
        var (scored, problems) = Score(compiled, "  a.rate: 0\nhelp:\n  a: started together\n  a.rate: 2\n");
        Assert.Empty(problems);
        Assert.Equal(0, scored!.Outcomes.Single().Low);
        var text = ExplanationText.Write(Explanation.Of(scored));
        Assert.Contains(
            "help used: started together, with it 2 (without it counts)",
            text,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Help_with_a_cost_is_explained_with_both_results()
    {
        var compiled = Compiled.Fragment(Costed);
        var (scored, problems) = Score(
            compiled,
            "  a.rate.trial-1: 0\n  a.rate.trial-2: 0\nhelp:\n  a: started together\n  a.rate: 2\n"
        );
        Assert.Empty(problems);
        Assert.Equal(1, scored!.Outcomes.Single().Low);
        var text = ExplanationText.Write(Explanation.Of(scored));
        Assert.Contains(
            "help used: started together, with it 2; alone 0, help costs 1, so 1 counts",
            text,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("  a: shown\n  a.rate: 2\n", "is how a begins")]
    [InlineData("  a: sung\n", "is no help this task offers")]
    [InlineData("  a.rate: 2\n", "not which help was given")]
    [InlineData("  a: said again\n", "not what came of it")]
    [InlineData("  a: said again\n  a.rate: refused\n", "says that it was not tried")]
    [InlineData("  a: said again\n  a.rate: 7\n", "no level of the scale")]
    public void Help_in_a_record_is_checked(string help, string says)
    {
        var (_, problems) = Score(
            Compiled.Fragment(Costed),
            "  a.rate.trial-1: 0\n  a.rate.trial-2: 0\nhelp:\n" + help
        );
        Assert.Contains(problems, p => p.Contains(says, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("help said again (costs 1), started together", "PK4049")]
    [InlineData("help shown (start, costs 1), said again", "PK4049")]
    [InlineData("help shown (start), said again (start)", "PK4015")]
    [InlineData("help said again (costs 0.5)", "PK4003")]
    [InlineData("senses touch\n  help said again", "PK5045")]
    [InlineData("time length in s, step 1, 0 to 9, qualitative\n  help said again", "PK5045")]
    public void Ladders_that_do_not_add_up_do_not_compile(string lines, string code)
    {
        var compiled = Compiled.Fragment($"task a\n  rate three\n  {lines}\nscore t \"T\" = 1 * a.rate\n");
        Assert.Single(compiled.Of(code));
        Assert.Null(compiled.Compilation.Protocol);
    }

    private static (ScoredRecord? Scored, IReadOnlyList<string> Problems) Score(
        Compiled compiled,
        string answers
    )
    {
        var text =
            "protocol: tiny\nedition: \"1.0\"\ncase: T-1\nage-months: 50\nparts:\n  - seen: 2026-01-10\nform: full\nanswers:\n"
            + answers;
        var reading = RecordReader.Read(text, "record.yaml", compiled.Protocol);
        return (
            reading.Record is { } record ? Scorer.Score(compiled.Protocol, record) : null,
            [.. reading.Problems.Select(p => p.Message)]
        );
    }
}
