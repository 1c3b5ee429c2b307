using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Asks what lines of the program take on two sheets at once.</summary>
internal sealed class Pairs(Questions questions, PairKind kind, IBeyondLimit? beyond)
{
    // Parts of the sheet.
    private const int LargeQuestion = 100;

    // Of the work that a question may take, so much goes into its smallest pair.
    private const int SmallestShare = 8;

    private readonly Dictionary<(long Form, bool Untried), (Graph Graph, KnownParts Known)> _graphs = [];
    private readonly Dictionary<Part, (PairSpace Space, List<Node> Related)> _spaces = [];
    private readonly Dictionary<string, object> _answers = new(StringComparer.Ordinal);

    private readonly Dictionary<Part, TriedPairs> _tried = [];
    private readonly Dictionary<(Node Goal, AgeRange Ages), (bool? May, Reach? Made)> _goals = [];
    private readonly Dictionary<(string Shape, long Limit), bool?> _may = [];
    private SmallestPairs? _smallest;
    private readonly QuestionShapes _shapes = new();

    /// <summary>Too large at one age is too large at the others: they differ in limits alone.</summary>
    private readonly HashSet<(long Form, bool Untried, string Lines)> _tooLarge = [];

    public PairKind Kind => kind;
    public Questions Questions => questions;

    public PairSpace Space(Part part) => Of(part).Space;

    /// <summary>Values of single answers that are seen as wholes.</summary>
    public IEnumerable<int> SmallLines => ProgramGraph.AnswerLines(questions.Program);

    /// <summary>Each value on the first sheet, then each on the second.</summary>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public Reach Ask(Part part, long limit, params int[] lines)
    {
        var roots = Roots(part, lines);
        var like = AgeParts.FirstLike(questions.Protocol, part.Ages);
        var key = $"{part.Form} {part.Untried} {like} {string.Join(' ', roots.Select(r => r.Id))}";
        if (!_answers.TryGetValue(key, out var answer))
        {
            try
            {
                answer = Work(part, roots, limit);
            }
            catch (ProofLimitException e)
            {
                answer = e;
            }

            _answers[key] = answer;
        }

        return answer as Reach ?? throw new ProofLimitException(((ProofLimitException)answer).Message);
    }

    /// <summary>Whether no pair shows something of a line's values; null where it is too large.</summary>
    /// <param name="shows">Told the line's value on the first sheet, then on the second.</param>
    public bool? Never(Part part, long limit, int line, Func<long, long, bool> shows)
    {
        var key = (part.Form, part.Untried, $"{line}");
        if (_tooLarge.Contains(key))
        {
            return null;
        }

        try
        {
            var reach = Ask(part, limit, line);
            return !reach.Any(row => shows(reach.Value(row, 0), reach.Value(row, 1)));
        }
        catch (ProofLimitException)
        {
            _tooLarge.Add(key);
            return null;
        }
    }

    /// <summary>Whether some pair makes a condition true; null where it is too large.</summary>
    public bool? May(Part part, long limit, Func<PairSpace, Graph, Node> goal)
    {
        var root = RootOf(part, goal);
        if (root.IsConstant)
        {
            return root.Is(1);
        }

        try
        {
            var shape = (_shapes.Of(Space(part), root), limit);
            if (!_may.TryGetValue(shape, out var may))
            {
                _may[shape] = may = Goal(part, limit, root).May;
            }

            return may;
        }
        catch (ProofLimitException)
        {
            return null;
        }
    }

    /// <summary>
    /// A pair that makes a condition true, as the sets know it, if it also shows what is asked of some lines; null where there is none,
    /// or none is known.
    /// </summary>
    public PairFound? Some(Part part, long limit, Func<PairSpace, Graph, Node> goal, int[] lines, Asked asked)
    {
        if (Goal(part, limit, RootOf(part, goal)).Made is not { } made)
        {
            return null;
        }

        try
        {
            return Scored(part, made.SomeChoices(RowOf(made)), lines, asked) is { } pair
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

    private Node RootOf(Part part, Func<PairSpace, Graph, Node> goal)
    {
        // The space comes first: it makes the graph.
        var space = Space(part);
        return goal(space, _graphs[(part.Form, part.Untried)].Graph);
    }

    /// <summary>Whether a condition can be made true, null where that is too large, and what makes it so.</summary>
    private (bool? May, Reach? Made) Goal(Part part, long limit, Node root)
    {
        var space = Space(part);
        var (graph, known) = _graphs[(part.Form, part.Untried)];
        if (!_goals.TryGetValue((root, part.Ages), out var goal))
        {
            // A few cases often show that it can be made true; that it can't takes all of them.
            var isLarge = space.SetOf(root)!.Count > LargeQuestion;
            var reach = Made(few: isLarge);
            reach = isLarge && reach is not null && RowOf(reach) < 0 ? Made(few: false) : reach;
            var may = reach is null ? (bool?)null : RowOf(reach) >= 0;
            _goals[(root, part.Ages)] = goal = (may, may == true ? reach : null);
        }

        return goal;

        Reach? Made(bool few)
        {
            try
            {
                return new Reach(
                    graph,
                    space,
                    [root],
                    Of(part).Related,
                    limit: limit,
                    known: known,
                    orRecords: false,
                    isGoal: true,
                    few: few
                );
            }
            catch (ProofLimitException)
            {
                return null;
            }
        }
    }

    /// <summary>
    /// The smallest pair for which it holds of the lines on the first sheet and then on the second: first those with few answers that
    /// aren't flawless; beyond the limit any that is known, or one by a solver.
    /// </summary>
    /// <param name="any">A pair that shows it and was found in another way; null where none is known.</param>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public PairFound? Find(Part part, long limit, int[] lines, Asked asked, PairFound? any = null)
    {
        var roots = Roots(part, lines);
        var goal = asked.AsNode(_graphs[(part.Form, part.Untried)].Graph, roots);
        if (goal.IsConstant)
        {
            // Where every pair shows it, two flawless sheets do.
            return goal.Is(0) ? null : Confirmed(part, [], lines, asked);
        }

        any ??= Tried(part, lines, asked);
        try
        {
            if (any is null)
            {
                var (may, made) = Goal(part, limit, goal);
                if (made is null)
                {
                    return may == false ? null : throw TooMany();
                }

                any = Confirmed(part, made.SomeChoices(RowOf(made)), lines, asked) with
                {
                    IsSmallest = false,
                };
            }

            return Smallest(part, goal, limit, lines, asked) ?? any;
        }
        catch (ProofLimitException) when (any is not null)
        {
            return any;
        }
        catch (ProofLimitException e) when (beyond is not null)
        {
            return BySolver(part, goal, lines, asked, e);
        }
    }

    /// <summary>The first row that makes a condition true, or -1.</summary>
    private static int RowOf(Reach goal) =>
        Enumerable.Range(0, goal.Count).FirstOrDefault(r => goal.Value(r, 0) == 1, -1);

    private static ProofLimitException TooMany() =>
        new("there are too many cases to tell apart within the limit of work");

    /// <summary>Null where looking for it takes too much.</summary>
    private PairFound? Smallest(Part part, Node goal, long limit, int[] lines, Asked asked)
    {
        _smallest ??= new SmallestPairs(
            (p, g, rows, differing) => Work(p, [g], rows, differing, isGoal: true)
        );
        return _smallest.Find(part, Space(part), goal, limit / SmallestShare) is { } choices
            ? Confirmed(part, choices, lines, asked)
            : null;
    }

    private PairFound? BySolver(Part part, Node question, int[] lines, Asked asked, ProofLimitException e)
    {
        var (problem, parts) = ProblemWriter.Write(Space(part), question);
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

    /// <summary>The first of some pairs that shows what is asked of the lines; it need not be the smallest for that.</summary>
    public static PairFound? Showing(IEnumerable<PairFound> found, int[] lines, Asked asked) =>
        found.FirstOrDefault(p => Shows(p.FirstLines, p.SecondLines, lines, asked)) is { } pair
            ? pair with
            {
                IsSmallest = false,
            }
            : null;

    /// <summary>A plain pair that shows it; null where none of those that are tried does.</summary>
    public PairFound? Tried(Part part, int[] lines, Asked asked, OutcomeLines? of = null)
    {
        if (!_tried.TryGetValue(part, out var tried))
        {
            _tried[part] = tried = new TriedPairs(questions, part, Space(part));
        }

        return tried.Show(kind, lines, asked, of);
    }

    private static bool Shows(long[] first, long[] second, int[] lines, Asked asked) =>
        asked.Holds(i => i < lines.Length ? first[lines[i]] : second[lines[i - lines.Length]]);

    /// <summary>Both sheets, scored before anyone sees them.</summary>
    private PairFound Confirmed(Part part, IReadOnlyList<(int, int)> choices, int[] lines, Asked asked) =>
        Scored(part, choices, lines, asked)
        ?? throw new InvalidOperationException("Scoring disagrees with the proof about a pair of sheets.");

    /// <summary>Null where the scored sheets don't show it.</summary>
    private PairFound? Scored(Part part, IReadOnlyList<(int, int)> choices, int[] lines, Asked asked)
    {
        var (first, second) = Space(part).Sheets(choices);
        foreach (var sheet in new[] { first, second })
        {
            sheet[questions.Program.AgeField] = Math.Max(
                sheet[questions.Program.AgeField],
                part.Ages.From.Months
            );
        }

        var (a, b) = (Evaluator.Run(questions.Program, first), Evaluator.Run(questions.Program, second));
        return Shows(a, b, lines, asked) ? new PairFound(first, second, a, b) : null;
    }

    private List<Node> Roots(Part part, int[] lines)
    {
        var space = Space(part);
        return [.. lines.Select(space.First.Lines.Line), .. lines.Select(space.Second.Lines.Line)];
    }

    private Reach Work(
        Part part,
        List<Node> roots,
        long limit,
        int differing = int.MaxValue,
        bool isGoal = false
    )
    {
        var (graph, known) = _graphs[(part.Form, part.Untried)];
        var (space, related) = Of(part);
        return new Reach(
            graph,
            space,
            roots,
            related,
            counts: false,
            limit,
            known,
            differing,
            orRecords: false,
            isGoal: isGoal
        );
    }

    private (PairSpace Space, List<Node> Related) Of(Part part)
    {
        if (_spaces.TryGetValue(part, out var known))
        {
            return known;
        }

        if (!_graphs.TryGetValue((part.Form, part.Untried), out var graph))
        {
            _graphs[(part.Form, part.Untried)] = graph = (new Graph(), new KnownParts());
        }

        var like = _spaces.FirstOrDefault(s => s.Key with { Ages = part.Ages } == part).Value.Space;
        var space = new PairSpace(
            questions.Protocol,
            graph.Graph,
            part.Ages,
            part.Form,
            part.Untried,
            kind,
            like
        );
        var lines = Questions.Wholes(questions.Program).Concat(SmallLines).ToList();
        return _spaces[part] = (
            space,
            [
                .. lines
                    .SelectMany(l => new[] { space.First.Lines.Line(l), space.Second.Lines.Line(l) })
                    .Distinct(),
            ]
        );
    }
}

/// <summary>Two sheets that show something, with every line of the program on each.</summary>
internal sealed record PairFound(long[] First, long[] Second, long[] FirstLines, long[] SecondLines)
{
    public bool IsSmallest { get; init; } = true;
}
