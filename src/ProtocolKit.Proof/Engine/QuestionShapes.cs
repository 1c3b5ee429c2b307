using System.Globalization;
using System.Text;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Names questions by all that their answer rests on, whatever their fields are called: the formula, the conditions that touch it,
/// and the rows of each part. Most tasks of a protocol are of a few kinds, and ask the same of other fields.
/// </summary>
internal sealed class QuestionShapes
{
    private readonly Dictionary<int, List<(long[][] Columns, int Name)>> _rows = [];
    private int _names;

    /// <summary>Equal for two questions only where what can make one true can make the other true.</summary>
    /// <exception cref="ProofLimitException">A part has too many rows to list.</exception>
    public string Of(Space space, Node root) => Of(space, [root], isFilled: false).Name;

    /// <summary>
    /// Equal names only where the same is reached in the same ways: a way to fill the parts of one question fills those of the other, part
    /// by part.
    /// </summary>
    /// <param name="isFilled">Whether the ways and how far they are from flawless count besides the values that are read.</param>
    /// <exception cref="ProofLimitException">A part has too many rows to list.</exception>
    public (string Name, IReadOnlyList<int> Parts) Of(Space space, IReadOnlyList<Node> roots, bool isFilled)
    {
        var cone = new Cone(space, roots, everyCondition: false);
        var writer = new Writer(space);
        foreach (var root in roots)
        {
            writer.Write(root);
        }

        foreach (var condition in cone.Conditions)
        {
            writer.Text.Append('&');
            writer.Write(condition);
        }

        foreach (var part in writer.Parts)
        {
            var rows = space.RowsOf(part);
            var read = Enumerable
                .Range(0, rows.Nodes.Length)
                .Where(n => writer.Numbers.ContainsKey(rows.Nodes[n]))
                .ToList();
            writer
                .Text.Append('|')
                .AppendJoin(' ', read.Select(n => writer.Numbers[rows.Nodes[n]]))
                .Append(':');
            writer.Text.Append(
                NameOf(isFilled ? [.. rows.Values, rows.Cost] : [.. read.Select(n => rows.Values[n])])
            );
        }

        if (isFilled)
        {
            // The smaller of two ways is the one that is better earlier.
            writer
                .Text.Append('/')
                .AppendJoin(' ', writer.Parts.Order().Select(p => writer.Parts.IndexOf(p)));
        }

        return (writer.Text.ToString(), writer.Parts);
    }

    /// <summary>A number, the same for the same columns of values.</summary>
    private int NameOf(long[][] columns)
    {
        var hash = new HashCode();
        foreach (var column in columns)
        {
            foreach (var value in column)
            {
                hash.Add(value);
            }
        }

        var key = hash.ToHashCode();
        if (!_rows.TryGetValue(key, out var known))
        {
            _rows[key] = known = [];
        }

        var index = known.FindIndex(k =>
            k.Columns.Length == columns.Length
            && k.Columns.Zip(columns).All(c => c.First.AsSpan().SequenceEqual(c.Second))
        );
        if (index < 0)
        {
            known.Add((columns, _names++));
            index = known.Count - 1;
        }

        return known[index].Name;
    }

    /// <summary>Nodes by the order in which they are met.</summary>
    private sealed class Writer(Space space)
    {
        private readonly HashSet<int> _parts = [];

        public StringBuilder Text { get; } = new();

        public Dictionary<Node, int> Numbers { get; } = [];

        /// <summary>Parts that are read, in the order in which they are met.</summary>
        public List<int> Parts { get; } = [];

        public void Write(Node node)
        {
            if (Numbers.TryGetValue(node, out var number))
            {
                Text.Append(CultureInfo.InvariantCulture, $"#{number}");
                return;
            }

            Text.Append('(').Append((int)node.Op);
            if (node.Op == Op.Field)
            {
                var part = space.PartOf((int)node.Value);
                if (_parts.Add(part))
                {
                    Parts.Add(part);
                }
            }
            else
            {
                Text.Append(CultureInfo.InvariantCulture, $";{node.Value};");
                Text.AppendJoin(' ', node.Numbers);
            }

            foreach (var arg in node.Args)
            {
                Write(arg);
            }

            Numbers.Add(node, Numbers.Count);
            Text.Append(')');
        }
    }
}
