namespace ProtocolKit.Proof.Engine;

/// <summary>Which of the values kept after a step stand in columns, and which are digits of a place.</summary>
internal sealed class SetLayout
{
    // A narrower sum is no trouble to keep apart, and a set for it costs more than it saves.
    private const long Narrow = 7;

    // Beyond as many places a sum stands in a column: most combinations of many sums never happen.
    private const long Most = 1 << 13;

    private readonly List<Node> _columns = [];
    private readonly List<Register> _registers = [];
    private readonly List<(long Stride, long Factor, long Unit, Node Part)> _terms = [];

    public SetLayout(
        IReadOnlyList<Register> before,
        StepReads reads,
        List<Node> live,
        Func<Node, Span?> spanOf
    )
    {
        // Registers of before keep their strides; new ones follow, the widest first.
        foreach (
            var node in live.Where(n => reads.GrowthOf(n) is not null)
                .OrderBy(n => reads.GrowthOf(n)!.Register)
        )
        {
            Grow(node, reads.GrowthOf(node)!, before);
        }

        var fresh = live.Where(n => reads.GrowthOf(n) is null).Select(n => (Node: n, Span: spanOf(n)));
        foreach (var (node, span) in fresh.OrderByDescending(f => f.Span?.Width ?? 0).ThenBy(f => f.Node.Id))
        {
            if (span is { Width: > Narrow } && Places * span.Width <= Most)
            {
                Begin(node, span);
            }
            else
            {
                _columns.Add(node);
            }
        }
    }

    private long Places => _registers.Count == 0 ? 1 : _registers[^1].Stride * _registers[^1].Width;

    private void Grow(Node node, Growth growth, IReadOnlyList<Register> before)
    {
        var old = before[growth.Register];
        _registers.Add(old with { Node = node });
        Offset += old.Stride * ((old.Node.Low + growth.Constant - node.Low) / old.Unit);
        _terms.AddRange(growth.Parts.Select(p => (old.Stride, p.Factor, old.Unit, p.Part)));
    }

    private void Begin(Node node, Span span)
    {
        var stride = Places;
        _registers.Add(new Register(node, stride, span.Width, span.Unit));
        Offset -= stride * (node.Low / span.Unit);
        _terms.Add((stride, 1, span.Unit, node));
    }

    public IReadOnlyList<Node> Columns => _columns;
    public IReadOnlyList<Register> Registers => _registers;

    /// <summary>A place is the old one, moved by this and by the terms.</summary>
    public long Offset { get; private set; }
    public IReadOnlyList<(long Stride, long Factor, long Unit, Node Part)> Terms => _terms;
}
