using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// What a measure or score and its bands take together, read off the values of the outcome alone: those are worked out once for all ages
/// that share their formula, and only the rows of the cut-offs differ.
/// </summary>
internal sealed class OutcomeValues(Questions questions, KnownValues shared)
{
    private readonly Dictionary<(Part Part, string Lines), List<long[]>?> _known = [];
    private readonly Dictionary<(Part Like, string Roots), string> _names = [];

    /// <summary>Distinct values of some lines of one outcome, or of its bands.</summary>
    /// <exception cref="ProofLimitException">It is too large to work out exactly.</exception>
    public List<long[]> Of(Part part, params int[] lines)
    {
        var key = (part, string.Join(' ', lines));
        if (!_known.TryGetValue(key, out var values))
        {
            _known[key] = values = ByValue(part, lines);
        }

        return values ?? Asked(part, lines);
    }

    /// <summary>
    /// State, low and high end, and of a fraction the denominators of both ends; the same list for ages that share the formula.
    /// </summary>
    /// <exception cref="ProofLimitException">It is too large to work out exactly.</exception>
    public List<long[]> Of(Part part, OutcomeLines outcome)
    {
        int[] lines = [outcome.StateLine, outcome.LowLine, outcome.HighLine];
        int[] read =
            outcome.LowDenominatorLine < 0
                ? lines
                : [.. lines, outcome.LowDenominatorLine, outcome.HighDenominatorLine];
        return Raw(Like(part, read), read);
    }

    private List<long[]> Asked(Part part, int[] lines)
    {
        var reach = questions.Ask(part, lines);
        return
        [
            .. Enumerable
                .Range(0, reach.Count)
                .Select(row => lines.Select((_, i) => reach.Value(row, i)).ToArray()),
        ];
    }

    /// <summary>Null where something rests on more than the outcome, or where that is too large.</summary>
    private List<long[]>? ByValue(Part part, int[] lines)
    {
        if (OutcomeOf(lines) is not { } outcome)
        {
            return null;
        }

        int[] values = [outcome.StateLine, outcome.LowLine, outcome.HighLine];
        var like = Like(part, values);
        var (graph, first) = (questions.GraphOf(part), 4 * questions.Program.Fields.Count);
        Node[] fields = [.. questions.Space(like).Fields];
        fields[questions.Program.AgeField] = RecordSpace.AgeField(graph, questions.Program, part.Ages);
        var cut = new ProgramGraph(graph, questions.Program, fields, cut: Cut);
        var roots = lines.Select(cut.Line).ToList();
        return roots.TrueForAll(r => NodeValues.RestsOn(r, field => field >= first))
            ? ByValue(like, values, roots, first)
            : null;

        Node? Cut(int line) =>
            Array.IndexOf(values, line) < 0 ? null
            : questions.Line(like, line) is { IsConstant: true } known ? known
            : graph.Field(
                first + line,
                questions.Program.Lines[line].Low,
                questions.Program.Lines[line].High,
                []
            );
    }

    /// <summary>The youngest at which lines are the same formulas.</summary>
    private Part Like(Part part, params int[] lines) =>
        part with
        {
            Ages = AgeParts.FirstLike(questions.Protocol, part.Ages, lines),
        };

    private List<long[]>? ByValue(Part part, int[] values, List<Node> roots, int first)
    {
        List<long[]> known;
        try
        {
            known = Raw(part, values);
        }
        catch (ProofLimitException)
        {
            return null;
        }

        var value = known.FirstOrDefault() ?? [];
        var nodes = new NodeValues(f => value[Array.IndexOf(values, (int)f - first)]);
        var seen = new HashSet<long[]>(SameRow.Instance);
        foreach (var next in known)
        {
            value = next;
            nodes.Clear();
            seen.Add([.. roots.Select(nodes.Of)]);
        }

        return [.. seen];
    }

    /// <summary>Outcomes of sections of one kind take the same values.</summary>
    private List<long[]> Raw(Part part, int[] lines)
    {
        List<Node> roots = [.. lines.Select(l => questions.Line(part, l))];
        var ids = (Like(part), string.Join(' ', roots.Select(r => r.Id)));
        if (!_names.TryGetValue(ids, out var name))
        {
            _names[ids] = name = shared.NameOf(questions.Space(part), roots);
        }

        return shared.Of(name, () => Asked(part, lines));
    }

    private OutcomeLines? OutcomeOf(int[] lines)
    {
        var program = questions.Program;
        return program.Outcomes.FirstOrDefault(o =>
            o.LowDenominatorLine < 0
            && Array.TrueForAll(
                lines,
                l =>
                    l == o.StateLine
                    || l == o.LowLine
                    || l == o.HighLine
                    || program.Bands.Any(b => b.Line == l && b.Table.Outcome.Name == o.Outcome.Name)
            )
        );
    }
}
