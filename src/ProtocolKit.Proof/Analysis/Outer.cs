using System.Text;
using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Asks questions of the small space in which outcomes have nothing to do with one another.</summary>
internal sealed class Outer
{
    private readonly Questions _questions;
    private readonly Part _part;
    private readonly PairRelations? _relations;
    private readonly Graph _graph = new();
    private readonly Space _answers;
    private readonly List<ProgramGraph> _sheets = [];
    private readonly Dictionary<int, (int Sheet, int Line)> _cuts = [];
    private readonly Dictionary<int, string> _outcomeOf = [];

    /// <param name="relations">How values of two sheets compare; null for one sheet.</param>
    public Outer(Questions questions, Part part, PairRelations? relations)
    {
        (_questions, _part, _relations) = (questions, part, relations);
        var program = questions.Program;
        foreach (var outcome in program.Outcomes.Where(o => o.LowDenominatorLine < 0))
        {
            _outcomeOf.TryAdd(outcome.StateLine, outcome.Outcome.Name);
            _outcomeOf.TryAdd(outcome.LowLine, outcome.Outcome.Name);
            _outcomeOf.TryAdd(outcome.HighLine, outcome.Outcome.Name);
        }

        foreach (var band in program.Bands)
        {
            _outcomeOf[band.Line] = band.Table.Outcome.Name;
        }

        if (relations is null)
        {
            var space = new RecordSpace(questions.Protocol, _graph, part.Ages, part.Form, part.Untried);
            _answers = space;
            _sheets.Add(Sheet(0, space));
        }
        else
        {
            var pair = new PairSpace(
                questions.Protocol,
                _graph,
                part.Ages,
                part.Form,
                part.Untried,
                relations.Kind
            );
            _answers = pair;
            _sheets.Add(Sheet(0, pair.First));
            _sheets.Add(Sheet(1, pair.Second));
        }
    }

    private int FirstField => 4 * _questions.Program.Fields.Count;

    /// <summary>What the lines can be together: those of one sheet, or those of the first and then those of the second.</summary>
    /// <exception cref="ProofLimitException">Even this is too large.</exception>
    public Reach Ask(params int[] lines) => Ask(RootsOf(lines), isGoal: false);

    /// <summary>Whether the lines can be as is asked of them.</summary>
    /// <exception cref="ProofLimitException">Even this is too large.</exception>
    public bool May(int[] lines, Asked asked)
    {
        var goal = asked.AsNode(_graph, RootsOf(lines));
        if (goal.IsConstant)
        {
            return goal.Is(1);
        }

        var reach = Ask([goal], isGoal: true);
        return reach.Any(r => reach.Value(r, 0) == 1);
    }

    private List<Node> RootsOf(int[] lines) => [.. _sheets.SelectMany(s => lines.Select(s.Line))];

    private Reach Ask(List<Node> roots, bool isGoal)
    {
        var read = FieldsOf(roots);
        var coarse = CoarseStates(roots);
        var clusters = new List<Func<PartRows>>();
        var partOfField = new Dictionary<int, int>();
        foreach (var outcome in read.Where(_cuts.ContainsKey).GroupBy(f => _outcomeOf[_cuts[f].Line]))
        {
            var columns = outcome.Select(f => _cuts[f].Line).Distinct().Order().ToArray();
            foreach (var field in _cuts.Where(c => columns.Contains(c.Value.Line)).Select(c => c.Key))
            {
                partOfField[field] = clusters.Count;
            }

            clusters.Add(() => Rows(columns, coarse));
        }

        // Most ages say the same of the same values: equal questions are answered once.
        var rows = clusters.Select(c => c()).ToList();
        var key = ShapeOf(roots, rows, read.Any(f => !partOfField.ContainsKey(f)));
        if (key is not null && _questions.OuterAnswers.TryGetValue(key, out var known))
        {
            return known;
        }

        var space = new OuterSpace(_answers, [.. rows.Select(r => new Func<PartRows>(() => r))], partOfField);
        var reach = new Reach(_graph, space, roots, [], limit: 200_000, isGoal: isGoal);
        if (key is not null)
        {
            _questions.OuterAnswers[key] = reach;
        }

        return reach;
    }

    /// <summary>Formulas and rows of a question in full; null where answers are read besides.</summary>
    private static string? ShapeOf(List<Node> roots, List<PartRows> rows, bool readsAnswers)
    {
        if (readsAnswers)
        {
            return null;
        }

        var text = new StringBuilder();
        var seen = new HashSet<Node>();
        roots.ForEach(Write);
        foreach (var part in rows)
        {
            text.Append('|').AppendJoin(' ', part.Nodes.Select(n => n.Value));
            foreach (var column in part.Values)
            {
                text.Append(';').AppendJoin(' ', column);
            }
        }

        return text.ToString();

        void Write(Node node)
        {
            if (!seen.Add(node))
            {
                text.Append('#').Append(node.Id).Append(' ');
                return;
            }

            text.Append('(').Append(node.Op).Append(node.Id).Append(' ').Append(node.Value).Append(' ');
            text.AppendJoin(' ', node.Numbers);
            foreach (var arg in node.Args)
            {
                Write(arg);
            }

            text.Append(')');
        }
    }

    /// <summary>
    /// True where what was asked for rests on outcomes that share no answers and no conditions: then what can happen here does happen.
    /// </summary>
    public bool IsExact(params int[] lines)
    {
        var space = _questions.Space(_part);
        var read = FieldsOf([.. lines.Select(_sheets[0].Line)]);
        var sets = read.Where(_cuts.ContainsKey)
            .GroupBy(f => _outcomeOf[_cuts[f].Line])
            .Select(g => UnionOf(g.Select(f => space.SetOf(space.Lines.Line(_cuts[f].Line))), space))
            .Concat(read.Where(f => !_cuts.ContainsKey(f)).Select(f => Single(space.LeafOf(f), space)))
            .ToList();
        var used = new LeafSet(space.PartCount);
        foreach (var set in sets)
        {
            if (used.Overlaps(set))
            {
                return false;
            }

            used.Add(set);
        }

        return space
            .Conditions.Where(c => !c.Condition.Is(1))
            .Select(c => space.SetOf(c.Condition))
            .OfType<LeafSet>()
            .All(c => !c.Overlaps(used) || sets.Exists(c.IsWithin));
    }

    private static LeafSet UnionOf(IEnumerable<LeafSet?> sets, Space space)
    {
        var union = new LeafSet(space.PartCount);
        foreach (var set in sets.OfType<LeafSet>())
        {
            union.Add(set);
        }

        return union;
    }

    private static LeafSet Single(int part, Space space)
    {
        var set = new LeafSet(space.PartCount);
        set.Add(part);
        return set;
    }

    private ProgramGraph Sheet(int sheet, RecordSpace space)
    {
        var program = _questions.Program;
        return new ProgramGraph(_graph, program, space.Fields, cut: Cut);

        Node? Cut(int line)
        {
            if (!_outcomeOf.ContainsKey(line))
            {
                return null;
            }

            var known = _questions.Line(_part, line);
            if (known.IsConstant && _relations is null)
            {
                return _graph.Constant(known.Value);
            }

            var field = FirstField + (sheet * program.Lines.Count) + line;
            _cuts[field] = (sheet, line);
            var limits = program.Lines[line];
            return _graph.Field(field, limits.Low, limits.High, []);
        }
    }

    private static HashSet<int> FieldsOf(List<Node> roots) =>
        [.. Below(roots).Where(n => n.Op == Op.Field).Select(n => (int)n.Value)];

    private static HashSet<Node> Below(List<Node> roots)
    {
        var seen = new HashSet<Node>();
        var open = new Stack<Node>(roots);
        while (open.TryPop(out var node))
        {
            if (seen.Add(node))
            {
                Array.ForEach(node.Args, open.Push);
            }
        }

        return seen;
    }

    /// <summary>
    /// States that are only asked whether there is a value, and whether it is not applicable: why there is none may be forgotten.
    /// </summary>
    private HashSet<int> CoarseStates(List<Node> roots)
    {
        var states = _questions.Program.Outcomes.Select(o => o.StateLine).ToHashSet();
        var fine = roots.Where(r => r.Op == Op.Field).ToHashSet();
        foreach (var node in Below(roots))
        {
            var isCoarse =
                node.Op is Op.Equal or Op.AtMost && node.Args[1].IsConstant && node.Args[1].Value <= 1;
            fine.UnionWith(isCoarse ? [] : node.Args.Where(a => a.Op == Op.Field));
        }

        states.ExceptWith(
            fine.Where(f => _cuts.ContainsKey((int)f.Value)).Select(f => _cuts[(int)f.Value].Line)
        );
        return states;
    }

    private PartRows Rows(int[] lines, HashSet<int> coarse)
    {
        var values = Values(_part, lines, coarse);
        if (_relations is null)
        {
            return Columns(values, 0, lines, v => v);
        }

        var second =
            _relations.Kind == PairKind.Refused
                ? Values(_part with { Untried = true }, lines, coarse)
                : values;
        var pairs = _relations.Pairs(_part, lines, values, second);
        var (a, b) = (Columns(pairs, 0, lines, p => p.First), Columns(pairs, 1, lines, p => p.Second));
        return new PartRows([.. a.Nodes, .. b.Nodes], [.. a.Values, .. b.Values], a.Cost);
    }

    private List<long[]> Values(Part part, int[] lines, HashSet<int> coarse)
    {
        var values = _questions.Values.Of(part, lines);
        var places = Enumerable.Range(0, lines.Length).Where(i => coarse.Contains(lines[i])).ToList();
        if (places.Count == 0)
        {
            return values;
        }

        return
        [
            .. values
                .Select(value =>
                {
                    var row = (long[])value.Clone();
                    places.ForEach(p => row[p] = Math.Min(row[p], 2));
                    return row;
                })
                .Distinct(SameRow.Instance),
        ];
    }

    private PartRows Columns<T>(List<T> rows, int sheet, int[] lines, Func<T, long[]> of)
    {
        var (nodes, values) = (new List<Node>(), new List<long[]>());
        for (var i = 0; i < lines.Length; i++)
        {
            var column = i;
            if (_sheets[sheet].Line(lines[i]) is { IsConstant: false } node)
            {
                nodes.Add(node);
                values.Add([.. rows.Select(r => of(r)[column])]);
            }
        }

        return new PartRows([.. nodes], [.. values], new long[rows.Count]);
    }
}
