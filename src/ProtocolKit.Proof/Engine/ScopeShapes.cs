using System.Globalization;
using System.Text;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Names scopes by what is worked out in them, whatever their parts are called: those that join parts of the same kinds, keep to the same
/// conditions and hand on the same values come to the same rows. Most sections of a protocol are of a few kinds.
/// </summary>
/// <param name="isFilled">Whether the ways to fill a part, how far they are from flawless and in which order parts stand count besides.</param>
/// <param name="mark">What else the rows depend on.</param>
/// <param name="polarity">What is asked for, where rows are kept for its sake alone.</param>
internal sealed class ScopeShapes(
    Space space,
    IReadOnlySet<Node> conditions,
    KnownParts known,
    bool isFilled = false,
    string mark = "",
    Polarity? polarity = null
)
{
    private readonly Dictionary<Scope, string> _names = [];
    private readonly Writer _writer = new();

    /// <summary>Scopes are named from the leaves up.</summary>
    /// <exception cref="ProofLimitException">A part has too many rows to list.</exception>
    public string Of(Scope scope)
    {
        var writer = _writer;
        writer.Start(mark);
        if (scope.Leaf >= 0)
        {
            var rows = space.RowsOf(scope.Leaf);
            writer.Text.Append(CultureInfo.InvariantCulture, $"L{known.NameOf(rows, isFilled)}");
            writer.Number(rows.Nodes);
        }

        foreach (var child in scope.Children)
        {
            writer.Text.Append(' ').Append(_names[child]);
            writer.Number(child.Outputs);
        }

        if (isFilled && !scope.IsInOrder)
        {
            List<int> leaves = [.. scope.FromTheLeaves().Where(s => s.Leaf >= 0).Select(s => s.Leaf)];
            writer.Text.Append('/').AppendJoin(' ', leaves.Select(l => leaves.Count(o => o < l)));
        }

        foreach (var (node, step) in scope.Values)
        {
            writer.Value(node, step, conditions.Contains(node));
        }

        foreach (var output in scope.Outputs)
        {
            writer.Output(output, polarity);
        }

        return _names[scope] = known.NameOf(writer.Text.ToString());
    }

    private sealed class Writer
    {
        private readonly Dictionary<Node, int> _numbers = [];

        public StringBuilder Text { get; } = new();

        /// <summary>Takes up the next scope: there are very many, and one of these serves them all.</summary>
        public void Start(string mark)
        {
            _numbers.Clear();
            Text.Clear().Append(mark);
        }

        public void Number(IReadOnlyList<Node> nodes)
        {
            foreach (var node in nodes)
            {
                _numbers.TryAdd(node, _numbers.Count);
                Limits(node);
            }
        }

        public void Value(Node node, int step, bool isCondition)
        {
            Text.Append(isCondition ? '!' : ';').Append((int)node.Op).Append('@').Append(step);
            foreach (var arg in node.Args)
            {
                _ = arg.IsConstant
                    ? Text.Append('=').Append(arg.Value)
                    : Text.Append('#').Append(_numbers[arg]);
            }

            Text.Append(':').Append(node.Value).Append(':').AppendJoin(' ', node.Numbers);
            Limits(node);
            _numbers.TryAdd(node, _numbers.Count);
        }

        public void Output(Node node, Polarity? polarity) =>
            Text.Append('>').Append(_numbers[node]).Append('/').Append((int?)polarity?.Of(node));

        private void Limits(Node node) => Text.Append('[').Append(node.Low).Append(' ').Append(node.High);
    }
}
