using System.Diagnostics;
using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Proof;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Solver;

namespace ProtocolKit.Benchmarks.Proof;

/// <summary>The same fourteen questions of the youngest age, complete and with untried answers: the engine's time beside CP-SAT's.</summary>
internal static class ReachabilityRatio
{
    private const double Seconds = 60;

    public static void Print(TextWriter output, int size, Protocol protocol)
    {
        foreach (var untried in new[] { false, true })
        {
            var questions = new Questions(protocol, Reach.Limit);
            var part = new Part(
                new AgeRange(protocol.Ages.From, new Age(protocol.Ages.From.Months + 11)),
                0,
                untried
            );
            var asked = Asked(protocol);

            // One search answers all questions, as in a proof; what it tried for one serves the next.
            var search = new Search(questions, null);
            var (engine, found) = Time(() => asked.Count(q => Engine(search, part, q) == true));
            var (solver, also) = Time(() => asked.Count(q => Solver(questions, part, q) == true));
            output.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{size} tasks, {(untried ? "with untried answers" : "complete")}: engine {engine:0} ms, {found} reachable; CP-SAT {solver:0} ms, {also} reachable; ratio {solver / engine:0.0}"
                )
            );
            output.Flush();
        }
    }

    /// <summary>Each headline, and bands of the whole, of the signs and of two parts.</summary>
    private static List<(int Line, long Value)> Asked(Protocol protocol)
    {
        var program = protocol.Program;
        var asked = new List<(int, long)>();
        for (var i = -1; i < program.Actions.Count; i++)
        {
            asked.Add((program.HeadlineLine, i));
        }

        foreach (var band in program.Bands.TakeLast(2).Concat(program.Bands.Take(1)))
        {
            asked.AddRange(Enumerable.Range(0, 3).Select(v => (band.Line, (long)v)));
        }

        return asked;
    }

    private static bool? Engine(Search search, Part part, (int Line, long Value) question)
    {
        try
        {
            return search.Exists(part, [question.Line], ProtocolKit.Proof.Analysis.Asked.Are(question.Value));
        }
        catch (ProofLimitException)
        {
            return null;
        }
    }

    private static bool? Solver(Questions questions, Part part, (int Line, long Value) question)
    {
        var node = questions
            .GraphOf(part)
            .Equal(questions.Line(part, question.Line), questions.GraphOf(part).Constant(question.Value));
        return node.Is(0)
            ? false
            : new CpSat(Seconds)
                .Solve(ProblemWriter.Write(questions.Space(part), node).Problem)
                .Outcome switch
            {
                SolverOutcome.Found => true,
                SolverOutcome.Impossible => false,
                _ => null,
            };
    }

    private static (double Milliseconds, int Found) Time(Func<int> work)
    {
        var watch = Stopwatch.StartNew();
        var found = work();
        return (watch.Elapsed.TotalMilliseconds, found);
    }
}
