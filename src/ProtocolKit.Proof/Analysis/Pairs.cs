using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Asks what lines of the program take on two sheets at once.</summary>
internal sealed class Pairs(Questions questions, PairKind kind)
{
    // Parts of the sheet.
    private const int LargeQuestion = 100;

    private readonly Dictionary<(long Form, bool Untried), (Graph Graph, KnownParts Known)> _graphs = [];
    private readonly Dictionary<Part, (PairSpace Space, List<Node> Related)> _spaces = [];
    private readonly Dictionary<string, object> _answers = new(StringComparer.Ordinal);

    private readonly Dictionary<(Node Goal, AgeRange Ages), (bool? May, Reach? Made)> _goals = [];
    private readonly Dictionary<(string Shape, long Limit), bool?> _may = [];
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
        var root = goal(Space(part), GraphOf(part));
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

    public Graph GraphOf(Part part)
    {
        _ = Of(part); // the space comes first: it makes the graph
        return _graphs[(part.Form, part.Untried)].Graph;
    }

    /// <summary>Whether a condition can be made true, null where that is too large, and what makes it so.</summary>
    public (bool? May, Reach? Made) Goal(Part part, long limit, Node root)
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

    /// <summary>The lines on the first sheet, then on the second.</summary>
    public List<Node> Roots(Part part, int[] lines)
    {
        var space = Space(part);
        return [.. lines.Select(space.First.Lines.Line), .. lines.Select(space.Second.Lines.Line)];
    }

    /// <summary>The first row of a goal that makes it true, or -1.</summary>
    public static int RowOf(Reach goal) =>
        Enumerable.Range(0, goal.Count).FirstOrDefault(r => goal.Value(r, 0) == 1, -1);

    /// <summary>Pairs with few answers that are not flawless, of those that make a condition true.</summary>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public Reach Near(Part part, Node goal, long limit, int differing) =>
        Work(part, [goal], limit, differing, isGoal: true);

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
