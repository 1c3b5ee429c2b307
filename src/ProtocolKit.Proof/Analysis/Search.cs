using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>A condition on values, for rows of the engine and as a value of the graph alike.</summary>
/// <param name="Holds">Of the values of the question's lines, by their place.</param>
/// <param name="AsNode">The same for the lines' nodes.</param>
internal sealed record Asked(Func<Func<int, long>, bool> Holds, Func<Graph, IReadOnlyList<Node>, Node> AsNode)
{
    /// <summary>Each of the lines has the value beside it.</summary>
    public static Asked Are(params long[] values) =>
        new(
            v => values.Select((w, i) => v(i) == w).All(b => b),
            (g, n) => g.Both(values.Select((w, i) => g.Equal(n[i], g.Constant(w))))
        );
}

/// <summary>
/// Looks for records, the cheapest way first: in the small space where outcomes have nothing to do with one another, what can't be is
/// found at once; then among records with few answers that are not flawless; then among all; beyond the limit by a solver.
/// </summary>
internal sealed class Search(Questions questions, IBeyondLimit? beyond)
{
    private const long Small = 20_000;
    private readonly Dictionary<Part, Outer> _outer = [];
    private readonly Dictionary<Part, List<long[]>> _simple = [];

    /// <summary>A record for which it holds, as fields, the smallest where the engine gets that far; null where there is none.</summary>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public long[]? Find(Part part, int[] lines, Asked asked)
    {
        if (IsImpossible(part, lines, asked))
        {
            return null;
        }

        try
        {
            return Exactly(part, lines, asked);
        }
        catch (ProofLimitException e) when (beyond is not null)
        {
            return ByASolver(part, lines, asked, e);
        }
    }

    /// <summary>Whether there is a record for which it holds.</summary>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public bool Exists(Part part, int[] lines, Asked asked)
    {
        if (IsImpossible(part, lines, asked))
        {
            return false;
        }

        return OuterOf(part).IsExact(lines)
            || SimpleOnes(part).Exists(s => asked.Holds(i => s[lines[i]]))
            || IsReached(part, lines, asked);
    }

    /// <summary>Which record is the smallest is not asked here: that can cost much more.</summary>
    private bool IsReached(Part part, int[] lines, Asked asked)
    {
        try
        {
            var reach = questions.AskWithin(part, Small, int.MaxValue, lines) ?? questions.Ask(part, lines);
            return reach.Any(r => asked.Holds(i => reach.Value(r, i)));
        }
        catch (ProofLimitException e) when (beyond is not null)
        {
            return ByASolver(part, lines, asked, e) is not null;
        }
    }

    private bool IsImpossible(Part part, int[] lines, Asked asked)
    {
        try
        {
            var reach = OuterOf(part).Ask(lines);
            return !reach.Any(r => asked.Holds(i => reach.Value(r, i)));
        }
        catch (ProofLimitException)
        {
            return false;
        }
    }

    private Outer OuterOf(Part part)
    {
        if (!_outer.TryGetValue(part, out var outer))
        {
            _outer[part] = outer = new Outer(questions, part, null);
        }

        return outer;
    }

    private long[]? Exactly(Part part, int[] lines, Asked asked)
    {
        if (questions.AskWithin(part, Small, int.MaxValue, lines) is { } small)
        {
            return Shown(part, small, lines, asked);
        }

        foreach (var differing in new[] { 1, 2, 4, 8 })
        {
            if (
                questions.AskWithin(part, Reach.Limit / 4, differing, lines) is { } few
                && Shown(part, few, lines, asked) is { } found
            )
            {
                return found;
            }
        }

        return Shown(part, questions.Ask(part, lines), lines, asked);
    }

    private long[]? Shown(Part part, Reach reach, int[] lines, Asked asked)
    {
        var row = reach.Smallest(r => asked.Holds(i => reach.Value(r, i)));
        return row < 0 ? null : questions.Witness(part, reach, row, lines);
    }

    private long[]? ByASolver(Part part, int[] lines, Asked asked, ProofLimitException limit)
    {
        var space = questions.Space(part);
        var question = asked.AsNode(questions.GraphOf(part), [.. lines.Select(l => questions.Line(part, l))]);
        if (question.Is(0))
        {
            return null;
        }

        var (problem, parts) = ProblemWriter.Write(space, question);
        var answer = beyond!.Solve(problem);
        switch (answer.Outcome)
        {
            case SolverOutcome.Impossible:
                return null;
            case SolverOutcome.Open:
                throw new ProofLimitException(
                    $"{limit.Message}, and a search of {answer.Limit} found neither a record nor a proof"
                );
            default:
                var fields = space.Sheet(parts.Select((p, i) => (p, answer.Rows[i])));
                fields[questions.Program.AgeField] = Math.Max(
                    fields[questions.Program.AgeField],
                    part.Ages.From.Months
                );
                var scored = Evaluator.Run(questions.Program, fields);
                return asked.Holds(i => scored[lines[i]])
                    ? fields
                    : throw new InvalidOperationException(
                        "The solver's record does not show what it should."
                    );
        }
    }

    /// <summary>Every line of the program for a few plain sheets: all at their best, all at their worst, and some between.</summary>
    private List<long[]> SimpleOnes(Part part)
    {
        if (!_simple.TryGetValue(part, out var sheets))
        {
            var space = questions.Space(part);
            _simple[part] = sheets = [
                .. Enumerable
                    .Range(0, 5)
                    .Select(i => Evaluator.Run(questions.Program, Plain(space, part, i))),
            ];
        }

        return sheets;
    }

    private long[] Plain(RecordSpace space, Part part, int kind)
    {
        var fields = (long[])space.Baseline.Clone();
        fields[questions.Program.AgeField] = part.Ages.From.Months;
        for (var i = 1; i < space.Leaves.Count; i++)
        {
            var leaf = space.Leaves[i];
            var isWorst = kind switch
            {
                0 => false,
                1 => true,
                2 => i % 2 == 0,
                3 => i < space.Leaves.Count / 2,
                _ => i % 3 == 0,
            };
            if (isWorst && !leaf.IsObservation && leaf.Order != 0)
            {
                fields[leaf.ValueField] = leaf.Order > 0 ? leaf.Low : leaf.High;
            }
        }

        space.Settle(fields, f => f != questions.Program.AgeField);
        return fields;
    }
}
