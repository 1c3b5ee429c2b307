using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Solver;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests;

/// <summary>Beyond the engine's limit another one answers; where both can, they agree.</summary>
public sealed class SolverTests
{
    private const string Pairs = """
        section s "S"
          task a item(three)
          task b item(three)
          task c item(three)
        score t "T"
          add up rate of every task in s
        cut-offs t
          ages          refer   watch  expected
          4;0 to 5;11   0 to 2  3      4 to 6
          basis provisional "x"
        actions
          full "Full" when any band is refer
          open "Open", finish when any band is undecided
          again "Again" when t is watch
          none "None" when no other action applies

        """;

    /// <summary>The first of two sections of twenty tasks, with a stop rule, scaling and signs at one age: headlines and bands, complete and with untried answers.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void CP_SAT_agrees_with_the_engine_on_a_generated_protocol(bool untried)
    {
        var protocol = Proving.Compiled(ProvedProtocol.Write(2 * ProvedProtocol.TasksInSection));
        var questions = new Questions(protocol, Engine.Reach.Limit);
        var part = new Part(new AgeRange(new Age(48), new Age(59)), 0, untried);
        var asked = protocol
            .Program.Bands.Take(1)
            .SelectMany(b =>
                Enumerable.Range(0, b.Table.Bands.Count + 4).Select(v => (b.Line, Value: (long)v))
            )
            .ToList();
        var answers = new HashSet<SolverOutcome>();
        foreach (var (line, value) in asked)
        {
            var reach = questions.Ask(part, line);
            var engine = reach.Any(r => reach.Value(r, 0) == value);
            var question = questions
                .GraphOf(part)
                .Equal(questions.Line(part, line), questions.GraphOf(part).Constant(value));
            var solver = question.Is(0)
                ? SolverOutcome.Impossible
                : new CpSat(20).Solve(ProblemWriter.Write(questions.Space(part), question).Problem).Outcome;
            Assert.Equal(engine ? SolverOutcome.Found : SolverOutcome.Impossible, solver);
            answers.Add(solver);
        }

        Assert.Equal(2, answers.Count);
    }

    [Fact]
    public void What_is_beyond_the_limit_is_proved_or_found_by_the_solver()
    {
        // Nothing fits within a limit of one row: every record and pair comes from the solver.
        var claims = "claim \"true\" when a = 2 then t >= 2\nclaim \"false\" when a = 2 then t >= 3\n";
        var protocol = Proving.Compiled(FragmentPrelude.Before(Pairs + claims, FragmentPrelude.Ages));
        var report = Prover.Prove(
            protocol,
            new ProofOptions(Limit: 1, Sets: false, Counts: false) { Beyond = new CpSat(20) }
        );
        var failed = Assert.Single(report.Findings, f => f.Kind == ProofKind.ClaimFails);
        Assert.Contains("“false”", failed.Text, StringComparison.Ordinal);
        Assert.Contains(report.Proved, p => p.Text.Contains("“true”", StringComparison.Ordinal));
        Assert.Contains(report.Proved, p => p.Topic == ProofTopic.Actions);

        var none = Prover.Prove(protocol, new ProofOptions(Limit: 1, Sets: false, Counts: false));
        Assert.DoesNotContain(none.Findings, f => f.Kind == ProofKind.ClaimFails);
        Assert.Contains(none.NotProved, n => n.Contains("“true”", StringComparison.Ordinal));
    }

    [Fact]
    public void A_search_that_runs_out_of_time_proves_nothing()
    {
        var protocol = Proving.Compiled(
            FragmentPrelude.Before(Pairs + "claim \"c\" when a = 2 then t >= 2\n", FragmentPrelude.Ages)
        );
        var report = Prover.Prove(
            protocol,
            new ProofOptions(Limit: 1, Sets: false, Counts: false) { Beyond = new OutOfTime() }
        );
        Assert.Contains(report.NotProved, n => n.Contains("a search of no time", StringComparison.Ordinal));
        Assert.DoesNotContain(report.Proved, p => p.Topic == ProofTopic.Claims);
    }

    private sealed class OutOfTime : IBeyondLimit
    {
        public SolverAnswer Solve(SolverProblem problem) => new(SolverOutcome.Open, [], "no time");
    }
}
