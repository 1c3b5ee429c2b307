using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Looks for a pair of sheets that shows something, the cheapest way first: among those that are known, among plain ones, among all; beyond
/// the limit by a solver. The smallest is shown where the engine gets that far.
/// </summary>
internal sealed class PairSearch(Pairs pairs, IBeyondLimit? beyond)
{
    // Of the work that a question may take, so much goes into its smallest pair.
    private const int SmallestShare = 8;

    private readonly Dictionary<Part, TriedPairs> _tried = [];
    private readonly SmallestPairs _smallest = new(pairs.Near);

    /// <summary>
    /// The smallest pair for which it holds of the lines on the first sheet and then on the second; another where that takes too much;
    /// null where there is none.
    /// </summary>
    /// <param name="known">Pairs of the same ages that show this, or something like it.</param>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public PairFound? Find(
        Part part,
        long limit,
        int[] lines,
        Asked asked,
        IEnumerable<PairFound>? known = null
    )
    {
        try
        {
            return Exactly(part, limit, lines, asked, known ?? []);
        }
        catch (ProofLimitException e) when (beyond is not null)
        {
            return BySolver(part, lines, asked, e);
        }
    }

    /// <summary>
    /// The first part with such a pair; null where there is none. Once a part is too large, plain pairs of the others are looked at before
    /// anything else is worked out: one of them is worth more than to say that nothing was proved.
    /// </summary>
    /// <param name="known">Of each age, pairs that show something like it.</param>
    /// <param name="relationOf">What is proved of a line's values on both sheets; null where nothing is.</param>
    /// <exception cref="ProofLimitException">A part is too large, and nothing was found in the others.</exception>
    public (Part Part, PairFound Pair)? FindFirst(
        IEnumerable<Part> parts,
        long limit,
        int[] lines,
        Asked asked,
        Func<AgeRange, IEnumerable<PairFound>> known,
        Func<Part, int, Func<long, long, bool>?> relationOf
    )
    {
        List<Part> all = [.. parts];
        for (var i = 0; i < all.Count; i++)
        {
            try
            {
                if (
                    !IsImpossible(all[i])
                    && Exactly(all[i], limit, lines, asked, known(all[i].Ages)) is { } pair
                )
                {
                    return (all[i], pair);
                }
            }
            catch (ProofLimitException)
            {
                List<Part> left = [.. all.Skip(i)];
                return FirstPlain(left, limit, lines, asked, known)
                    ?? First(left, p => IsImpossible(p) ? null : Find(p, limit, lines, asked));
            }
        }

        return null;

        // With untried answers all patterns are compared, the one without any among them.
        bool IsImpossible(Part part) => Never(part with { Untried = true }) || Never(part);

        bool Never(Part part)
        {
            try
            {
                var relations = new PairRelations(pairs.Kind, relationOf);
                return !new Outer(pairs.Questions, part, relations).May(lines, asked);
            }
            catch (ProofLimitException)
            {
                return false;
            }
        }
    }

    private (Part Part, PairFound Pair)? FirstPlain(
        List<Part> parts,
        long limit,
        int[] lines,
        Asked asked,
        Func<AgeRange, IEnumerable<PairFound>> known
    )
    {
        var plain =
            First(parts, p => Showing(known(p.Ages), lines, asked) ?? Beside(p, lines, asked, known(p.Ages)))
            ?? First(parts, p => Tried(p, lines, asked));
        return plain is var (part, pair) ? (part, Exactly(part, limit, lines, asked, [pair]) ?? pair) : null;
    }

    private static (Part Part, PairFound Pair)? First(List<Part> parts, Func<Part, PairFound?> find)
    {
        foreach (var part in parts)
        {
            if (find(part) is { } pair)
            {
                return (part, pair);
            }
        }

        return null;
    }

    /// <summary>A pair that the sets of a condition know, if it also shows what is asked of some lines; null where none is known.</summary>
    public PairFound? Some(Part part, long limit, Node goal, int[] lines, Asked asked)
    {
        if (pairs.Goal(part, limit, goal).Made is not { } made)
        {
            return null;
        }

        try
        {
            return Scored(part, made.SomeChoices(Pairs.RowOf(made)), lines, asked) is { } pair
                ? pair with
                {
                    IsSmallest = false,
                }
                : null;
        }
        catch (ProofLimitException)
        {
            return null;
        }
    }

    /// <summary>A plain pair that shows it; null where none of those that are tried does.</summary>
    /// <param name="of">Whose answers are tried; null: everybody's in turn.</param>
    public PairFound? Tried(Part part, int[] lines, Asked asked, OutcomeLines? of = null) =>
        TriedOf(part).Show(pairs.Kind, lines, asked, of);

    private PairFound? Exactly(Part part, long limit, int[] lines, Asked asked, IEnumerable<PairFound> known)
    {
        var goal = GoalOf(part, lines, asked);
        if (goal.IsConstant)
        {
            // Where every pair shows it, two flawless sheets do.
            return goal.Is(0) ? null : Confirmed(part, [], lines, asked);
        }

        var any =
            Showing(known, lines, asked)
            ?? Tried(part, lines, asked)
            ?? Beside(part, lines, asked, known)
            ?? Made(part, limit, goal, lines, asked);
        try
        {
            return any is null ? null : Smallest(part, goal, limit, lines, asked) ?? any;
        }
        catch (ProofLimitException)
        {
            return any;
        }
    }

    private Node GoalOf(Part part, int[] lines, Asked asked) =>
        asked.AsNode(pairs.GraphOf(part), pairs.Roots(part, lines));

    /// <summary>A pair that differs as a known one does.</summary>
    private PairFound? Beside(Part part, int[] lines, Asked asked, IEnumerable<PairFound> known) =>
        known.Select(k => TriedOf(part).ShowBeside(k, lines, asked)).FirstOrDefault(p => p is not null);

    /// <summary>The first of some pairs that shows what is asked of the lines; it need not be the smallest for that.</summary>
    private static PairFound? Showing(IEnumerable<PairFound> found, int[] lines, Asked asked) =>
        found.FirstOrDefault(p => Shows(p.FirstLines, p.SecondLines, lines, asked)) is { } pair
            ? pair with
            {
                IsSmallest = false,
            }
            : null;

    /// <exception cref="ProofLimitException">It is too large.</exception>
    private PairFound? Made(Part part, long limit, Node goal, int[] lines, Asked asked)
    {
        var (may, made) = pairs.Goal(part, limit, goal);
        if (made is not null)
        {
            return Confirmed(part, made.SomeChoices(Pairs.RowOf(made)), lines, asked) with
            {
                IsSmallest = false,
            };
        }

        return may == false
            ? null
            : throw new ProofLimitException(
                "there are too many cases to tell apart within the limit of work"
            );
    }

    /// <summary>Null where looking for it takes too much.</summary>
    private PairFound? Smallest(Part part, Node goal, long limit, int[] lines, Asked asked) =>
        _smallest.Find(part, pairs.Space(part), goal, limit / SmallestShare) is { } choices
            ? Confirmed(part, choices, lines, asked)
            : null;

    private PairFound? BySolver(Part part, int[] lines, Asked asked, ProofLimitException e)
    {
        var (problem, parts) = ProblemWriter.Write(pairs.Space(part), GoalOf(part, lines, asked));
        var answer = beyond!.Solve(problem);
        return answer.Outcome switch
        {
            SolverOutcome.Impossible => null,
            SolverOutcome.Open => throw new ProofLimitException(
                $"{e.Message}, and a search of {answer.Limit} found neither a pair nor a proof"
            ),
            _ => Confirmed(part, [.. parts.Select((p, i) => (p, answer.Rows[i]))], lines, asked),
        };
    }

    private TriedPairs TriedOf(Part part)
    {
        if (!_tried.TryGetValue(part, out var tried))
        {
            _tried[part] = tried = new TriedPairs(pairs.Questions, part, pairs.Space(part));
        }

        return tried;
    }

    private static bool Shows(long[] first, long[] second, int[] lines, Asked asked) =>
        asked.HoldsOfBoth(lines.Length, i => first[lines[i]], i => second[lines[i]]);

    /// <summary>Both sheets, scored before anyone sees them.</summary>
    private PairFound Confirmed(Part part, IReadOnlyList<(int, int)> choices, int[] lines, Asked asked) =>
        Scored(part, choices, lines, asked)
        ?? throw new InvalidOperationException("Scoring disagrees with the proof about a pair of sheets.");

    /// <summary>Null where the scored sheets don't show it.</summary>
    private PairFound? Scored(Part part, IReadOnlyList<(int, int)> choices, int[] lines, Asked asked)
    {
        var program = pairs.Questions.Program;
        var (first, second) = pairs.Space(part).Sheets(choices);
        foreach (var sheet in new[] { first, second })
        {
            sheet[program.AgeField] = Math.Max(sheet[program.AgeField], part.Ages.From.Months);
        }

        var (a, b) = (Evaluator.Run(program, first), Evaluator.Run(program, second));
        return Shows(a, b, lines, asked) ? new PairFound(first, second, a, b) : null;
    }
}

/// <summary>Two sheets that show something, with every line of the program on each.</summary>
internal sealed record PairFound(long[] First, long[] Second, long[] FirstLines, long[] SecondLines)
{
    public bool IsSmallest { get; init; } = true;
}
