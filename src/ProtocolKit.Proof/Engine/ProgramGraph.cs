using ProtocolKit.Model;

namespace ProtocolKit.Proof.Engine;

/// <summary>Lines of a program as nodes of a graph, with nodes in place of its fields. Only what is asked for is made.</summary>
/// <param name="keepsAnswers">Whether kept ratings are seen as wholes too.</param>
/// <param name="cut">A node in place of a line; null where the line is worked out.</param>
/// <param name="like">The same with the fields of another age: lines that don't rest on the age are the same.</param>
internal sealed class ProgramGraph(
    Graph graph,
    ScoringProgram program,
    IReadOnlyList<Node> fields,
    bool keepsAnswers = false,
    Func<int, Node?>? cut = null,
    ProgramGraph? like = null
)
{
    private readonly LineReads _reads = LineReads.Of(program);

    /// <summary>Values of measures and scores, and bands: whatever reads them asks the same of the sheet.</summary>
    private readonly HashSet<int> _wholes =
    [
        .. program.Bands.Select(b => b.Line),
        .. program.Outcomes.SelectMany(o => new[] { o.LowLine, o.HighLine }),
        .. keepsAnswers ? AnswerLines(program) : [],
    ];

    /// <summary>
    /// The ends of kept ratings, of routed tasks before routing: what is left of them after it rests on all tasks that come earlier.
    /// </summary>
    public static IEnumerable<int> AnswerLines(ScoringProgram program)
    {
        var routed = program.Giving.Select(g => (g.Task.Name, g.Variant.Name)).ToHashSet();
        foreach (var kept in program.Kept.Where(k => k.Response.Kind == ResponseKind.Rating))
        {
            var isRouted = routed.Contains((kept.Task.Name, kept.Variant.Name));
            foreach (var line in new[] { kept.LowLine, kept.HighLine })
            {
                if (!isRouted)
                {
                    yield return line;
                }
                else if (program.Lines[line].Value is Choose { Then: LineValue raw })
                {
                    yield return raw.Line;
                }
            }
        }
    }

    private readonly Node?[] _lines = new Node?[program.Lines.Count];

    public Graph Graph => graph;

    public Node Line(int line)
    {
        foreach (var needed in Needed(line))
        {
            var source = program.Lines[needed];
            var made = source.Value is { } value ? Of(value) : Of(source.Condition!);
            _lines[needed] = _wholes.Contains(needed) ? graph.Keep(made) : made;
        }

        return _lines[line]!;
    }

    /// <summary>Lines still to be made, each after those it reads.</summary>
    private List<int> Needed(int line)
    {
        var needed = new List<int>();
        var seen = new HashSet<int>();
        var open = new Stack<int>([line]);
        while (open.TryPop(out var next))
        {
            if (_lines[next] is not null || !seen.Add(next))
            {
                continue;
            }

            if (cut?.Invoke(next) is { } given)
            {
                _lines[next] = given;
            }
            else if (like is not null && !_reads.RestsOnAge(next))
            {
                _lines[next] = like.Line(next);
            }
            else
            {
                needed.Add(next);
                foreach (var read in _reads.OfLine(next))
                {
                    open.Push(read);
                }
            }
        }

        needed.Sort();
        return needed;
    }

    private Node Of(IntExpr value) =>
        value switch
        {
            Constant c => graph.Constant(c.Value),
            FieldValue f => fields[f.Field],
            LineValue l => _lines[l.Line]!,
            Add a => graph.Add(Of(a.Left), Of(a.Right)),
            Subtract s => graph.Subtract(Of(s.Left), Of(s.Right)),
            Multiply m => graph.Multiply(Of(m.Left), Of(m.Right)),
            Least l => graph.Least([Of(l.Left), Of(l.Right)]),
            Most m => graph.Most([Of(m.Left), Of(m.Right)]),
            Choose c => graph.Choose(Of(c.If), Of(c.Then), Of(c.Else)),
            FloorDivide d => graph.Divide(Of(d.Dividend), Of(d.Divisor), d.Low, d.High),
            GuardedSum s => graph.Linear(
                0,
                s.Terms.Select(t =>
                    (1L, t.If is null ? Of(t.Value) : graph.Choose(Of(t.If), Of(t.Value), graph.Zero))
                )
            ),
            Pick p => graph.Pick(
                Of(p.Subject),
                [.. p.Cases.SelectMany(c => new[] { c.From, c.To, c.Value })]
            ),
            _ => throw new InvalidOperationException("The program holds a value the proof gives no meaning."),
        };

    private Node Of(BoolExpr condition) =>
        condition switch
        {
            LineCondition l => _lines[l.Line]!,
            IsEqual e => graph.Equal(Of(e.Left), Of(e.Right)),
            IsAtMost a => graph.AtMost(Of(a.Left), Of(a.Right)),
            BothOf b => graph.Both([Of(b.Left), Of(b.Right)]),
            EitherOf e => graph.Either([Of(e.Left), Of(e.Right)]),
            Model.Not n => graph.Not(Of(n.Inner)),
            _ => throw new InvalidOperationException(
                "The program holds a condition the proof gives no meaning."
            ),
        };
}
