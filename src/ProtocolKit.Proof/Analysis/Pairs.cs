using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Asks what lines of the program take on two sheets at once.</summary>
internal sealed class Pairs(Questions questions, PairKind kind)
{
    private readonly Dictionary<(long Form, bool Untried), (Graph Graph, KnownParts Known)> _graphs = [];
    private readonly Dictionary<Part, (PairSpace Space, List<Node> Related)> _spaces = [];
    private readonly Dictionary<string, object> _answers = new(StringComparer.Ordinal);

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
        var key = $"{part.Form} {part.Untried} {string.Join(' ', roots.Select(r => r.Id))}";
        if (!_answers.TryGetValue(key, out var answer))
        {
            try
            {
                answer = Work(part, roots, limit, int.MaxValue);
            }
            catch (ProofLimitException e)
            {
                answer = e;
            }

            _answers[key] = answer;
        }

        return answer as Reach ?? throw new ProofLimitException(((ProofLimitException)answer).Message);
    }

    /// <summary>The smallest pair for which a test of the values holds: first those with few answers that aren't flawless.</summary>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public PairFound? Find(Part part, long limit, int[] lines, Func<Reach, int, bool> test)
    {
        var roots = Roots(part, lines);
        foreach (var differing in new[] { 2, 4, 8, 16, int.MaxValue })
        {
            var reach = Work(part, roots, limit, differing);
            var row = reach.Smallest(r => test(reach, r));
            if (row >= 0)
            {
                return Confirmed(part, reach, row, lines);
            }
        }

        return null;
    }

    private PairFound Confirmed(Part part, Reach reach, int row, int[] lines)
    {
        var (first, second) = Space(part).Sheets(reach.Choices(row));
        foreach (var sheet in new[] { first, second })
        {
            sheet[questions.Program.AgeField] = Math.Max(
                sheet[questions.Program.AgeField],
                part.Ages.From.Months
            );
        }

        var scored = (Evaluator.Run(questions.Program, first), Evaluator.Run(questions.Program, second));
        for (var i = 0; i < lines.Length; i++)
        {
            if (
                scored.Item1[lines[i]] != reach.Value(row, i)
                || scored.Item2[lines[i]] != reach.Value(row, lines.Length + i)
            )
            {
                throw new InvalidOperationException(
                    $"The proof says {questions.Program.Lines[lines[i]].Name} is {reach.Value(row, i)} and {reach.Value(row, lines.Length + i)}, scoring says {scored.Item1[lines[i]]} and {scored.Item2[lines[i]]}."
                );
            }
        }

        return new PairFound(first, second, scored.Item1, scored.Item2);
    }

    private List<Node> Roots(Part part, int[] lines)
    {
        var space = Space(part);
        return [.. lines.Select(space.First.Lines.Line), .. lines.Select(space.Second.Lines.Line)];
    }

    private Reach Work(Part part, List<Node> roots, long limit, int differing)
    {
        var (graph, known) = _graphs[(part.Form, part.Untried)];
        var (space, related) = Of(part);
        return new Reach(graph, space, roots, related, counts: false, limit, known, differing);
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

        var space = new PairSpace(questions.Protocol, graph.Graph, part.Ages, part.Form, part.Untried, kind);
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
internal sealed record PairFound(long[] First, long[] Second, long[] FirstLines, long[] SecondLines);
