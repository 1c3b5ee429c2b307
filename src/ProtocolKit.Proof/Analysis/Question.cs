using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>All records of one form at ages that no row, start point or rule tells apart.</summary>
internal sealed record Part(AgeRange Ages, long Form, bool Untried);

/// <summary>
/// Asks what lines of the program take together. Equal questions are answered once: most lines say the same at every age.
/// </summary>
/// <param name="shared">What others who ask about the protocol know as well; null: nobody else asks.</param>
internal sealed class Questions(Protocol protocol, long limit, KnownValues? shared = null)
{
    private readonly Dictionary<(long Form, bool Untried), Graph> _graphs = [];
    private readonly Dictionary<Graph, KnownParts> _parts = [];
    private readonly Dictionary<Part, (RecordSpace Space, List<Node> Related)> _spaces = [];
    private OutcomeValues? _values;
    private readonly Dictionary<string, object> _answers = new(StringComparer.Ordinal);

    /// <summary>Answers of <see cref="Outer"/> by formulas and rows.</summary>
    public Dictionary<string, Reach> OuterAnswers { get; } = new(StringComparer.Ordinal);

    public OutcomeValues Values => _values ??= new OutcomeValues(this, shared ?? new KnownValues());

    public Protocol Protocol => protocol;
    public ScoringProgram Program => protocol.Program;

    public RecordSpace Space(Part part) => SpaceOf(part).Space;

    public IReadOnlyList<Node> Related(Part part) => SpaceOf(part).Related;

    /// <summary>Lines with the values of measures and scores, and with bands.</summary>
    public static IEnumerable<int> Wholes(ScoringProgram program) =>
        program
            .Outcomes.SelectMany(o => new[] { o.LowLine, o.HighLine })
            .Concat(program.Bands.Select(b => b.Line));

    public Graph GraphOf(Part part)
    {
        if (!_graphs.TryGetValue((part.Form, part.Untried), out var graph))
        {
            _graphs[(part.Form, part.Untried)] = graph = new Graph();
        }

        return graph;
    }

    public Node Line(Part part, int line) => Space(part).Lines.Line(line);

    /// <summary>True where the line is one and the same number for every record of the part.</summary>
    public bool IsAlways(Part part, int line, long value) => Line(part, line).Is(value);

    /// <exception cref="ProofLimitException">It is too large to work out exactly.</exception>
    public Reach Ask(Part part, params int[] lines) => Ask(part, [.. lines.Select(l => Line(part, l))]);

    /// <exception cref="ProofLimitException">It is too large to work out exactly.</exception>
    public Reach Ask(Part part, IReadOnlyList<Node> roots)
    {
        var like = AgeParts.FirstLike(protocol, part.Ages);
        var key = $"{part.Form} {part.Untried} {like} {string.Join(' ', roots.Select(r => r.Id))}";
        if (!_answers.TryGetValue(key, out var answer))
        {
            var (space, related) = SpaceOf(part);
            try
            {
                answer = new Reach(GraphOf(part), space, roots, related, counts: false, limit, KnownOf(part));
            }
            catch (ProofLimitException e)
            {
                answer = e;
            }

            _answers[key] = answer;
        }

        return answer as Reach ?? throw new ProofLimitException(((ProofLimitException)answer).Message);
    }

    /// <summary>The same among records with few answers that differ from flawless ones, within a smaller limit; null beyond it.</summary>
    public Reach? AskNearFlawless(Part part, int differing, params int[] lines)
    {
        var (space, related) = SpaceOf(part);
        try
        {
            return new Reach(
                GraphOf(part),
                space,
                [.. lines.Select(l => Line(part, l))],
                related,
                counts: false,
                Math.Min(Reach.Limit / 4, limit),
                KnownOf(part),
                differing
            );
        }
        catch (ProofLimitException)
        {
            return null;
        }
    }

    private KnownParts KnownOf(Part part) =>
        _parts.TryGetValue(GraphOf(part), out var known) ? known : _parts[GraphOf(part)] = new KnownParts();

    /// <summary>The smallest record of a row, checked by scoring it.</summary>
    /// <exception cref="InvalidOperationException">Scoring disagrees: a fault of ours.</exception>
    public long[] Witness(Part part, Reach reach, int row, params int[] lines)
    {
        var fields = Space(part).Sheet(reach.Choices(row));
        fields[Program.AgeField] = Math.Max(fields[Program.AgeField], part.Ages.From.Months);
        var scored = Evaluator.Run(Program, fields);
        for (var i = 0; i < lines.Length; i++)
        {
            if (scored[lines[i]] != reach.Value(row, i))
            {
                throw new InvalidOperationException(
                    $"The proof says {Program.Lines[lines[i]].Name} is {reach.Value(row, i)}, scoring says {scored[lines[i]]}."
                );
            }
        }

        return fields;
    }

    private (RecordSpace Space, List<Node> Related) SpaceOf(Part part)
    {
        if (!_spaces.TryGetValue(part, out var known))
        {
            var like = _spaces.FirstOrDefault(s => s.Key with { Ages = part.Ages } == part).Value.Space;
            var space = new RecordSpace(
                protocol,
                GraphOf(part),
                part.Ages,
                part.Form,
                part.Untried,
                like: like
            );
            _spaces[part] = known = (space, [.. Wholes(Program).Select(space.Lines.Line).Distinct()]);
        }

        return known;
    }
}
