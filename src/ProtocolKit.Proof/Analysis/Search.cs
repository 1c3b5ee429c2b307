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
    /// <summary>Of so many lines on a first sheet and then on a second.</summary>
    public bool HoldsOfBoth(int lines, Func<int, long> first, Func<int, long> second) =>
        Holds(i => i < lines ? first(i) : second(i - lines));

    /// <summary>Each of the lines has the value beside it.</summary>
    public static Asked Are(params long[] values) =>
        new(
            v => values.Select((w, i) => v(i) == w).All(b => b),
            (g, n) => g.Both(values.Select((w, i) => g.Equal(n[i], g.Constant(w))))
        );
}

/// <summary>
/// Looks for records, the cheapest way first: in the small space where outcomes have nothing to do with one another, what can't be is
/// found at once; then whether there is any; then among records with few answers that are not flawless; then among all; beyond the limit
/// by a solver.
/// </summary>
internal sealed class Search(Questions questions, IBeyondLimit? beyond)
{
    private readonly Dictionary<Part, Outer> _outer = [];
    private readonly Dictionary<Part, TriedRecords> _tried = [];

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
            || TriedOf(part).Show(s => asked.Holds(i => s[lines[i]]))
            || IsReached(part, lines, asked);
    }

    /// <summary>Which record is the smallest is not asked here: that can cost much more.</summary>
    private bool IsReached(Part part, int[] lines, Asked asked)
    {
        try
        {
            // Whether one of many holds is asked of each by itself: alone they rest on less of the sheet.
            if (
                lines.Length == 1
                && asked.Holds(_ => 1)
                && !asked.Holds(_ => 0)
                && questions.Line(part, lines[0]) is { Op: Op.Either } any
            )
            {
                return Array.Exists(any.Args, a => IsReached(questions.Ask(part, [a])));
            }

            var reach = questions.Ask(part, lines);
            return reach.Any(r => asked.Holds(i => reach.Value(r, i)));
        }
        catch (ProofLimitException e) when (beyond is not null)
        {
            return ByASolver(part, lines, asked, e) is not null;
        }
    }

    private static bool IsReached(Reach condition) => condition.Any(r => condition.Value(r, 0) == 1);

    private bool IsImpossible(Part part, int[] lines, Asked asked)
    {
        try
        {
            return !OuterOf(part).May(lines, asked);
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

    private TriedRecords TriedOf(Part part)
    {
        if (!_tried.TryGetValue(part, out var tried))
        {
            _tried[part] = tried = new TriedRecords(questions, part);
        }

        return tried;
    }

    /// <summary>
    /// Whether there is any is asked first: most of what is asked for does not exist. The smallest is then looked for among records with
    /// few answers that are not flawless, which is where it usually is.
    /// </summary>
    private long[]? Exactly(Part part, int[] lines, Asked asked)
    {
        ProofLimitException? limit = null;
        try
        {
            var all = questions.Ask(part, lines);
            if (!all.Any(r => asked.Holds(i => all.Value(r, i))))
            {
                return null;
            }
        }
        catch (ProofLimitException e)
        {
            limit = e;
        }

        foreach (var differing in new[] { 1, 2, 4, 8 })
        {
            if (
                questions.AskNearFlawless(part, differing, lines) is { } few
                && Shown(part, few, lines, asked) is { } found
            )
            {
                return found;
            }
        }

        return limit is null ? Shown(part, questions.Ask(part, lines), lines, asked) : throw limit;
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
}
