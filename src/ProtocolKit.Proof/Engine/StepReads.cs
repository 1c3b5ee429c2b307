namespace ProtocolKit.Proof.Engine;

/// <summary>A register after a step: what is added to it.</summary>
internal sealed record Growth(int Register, long Constant, IReadOnlyList<(long Factor, Node Part)> Parts);

/// <summary>
/// How the values of a step read the registers before it: not at all, by adding to one, or in another way, for which each combination
/// has to be looked at.
/// </summary>
internal sealed class StepReads
{
    private readonly Dictionary<Node, Growth> _grown = [];
    private readonly HashSet<Node> _other = [];
    private readonly IReadOnlyList<Register> _registers;

    public StepReads(IReadOnlyList<Register> registers, IEnumerable<Node> values)
    {
        _registers = registers;
        for (var i = 0; i < registers.Count; i++)
        {
            _grown[registers[i].Node] = new Growth(i, 0, []);
        }

        foreach (var node in values)
        {
            All.Add(node);
            if (!node.Args.Any(Reads))
            {
                Plain.Add(node);
            }
            else if (Grown(node) is { } growth)
            {
                _grown[node] = growth;
            }
            else
            {
                _other.Add(node);
                Other.Add(node);
            }
        }
    }

    /// <summary>Each after those it reads.</summary>
    public List<Node> All { get; } = [];

    /// <summary>Values that read no register, each after those it reads.</summary>
    public List<Node> Plain { get; } = [];

    /// <summary>Values that look into registers, each after those it reads.</summary>
    public List<Node> Other { get; } = [];

    public bool Reads(Node node) => _grown.ContainsKey(node) || _other.Contains(node);

    public Growth? GrowthOf(Node node) => _grown.GetValueOrDefault(node);

    /// <summary>Whether all of some nodes can be kept by moving sets: each register as one node with room for it, none looked into.</summary>
    public bool CanMove(IEnumerable<Node> kept)
    {
        var seen = new HashSet<int>();
        foreach (var node in kept)
        {
            if (_other.Contains(node))
            {
                return false;
            }

            if (_grown.TryGetValue(node, out var growth))
            {
                var register = _registers[growth.Register];
                var hasRoom =
                    (node.High - node.Low) / register.Unit < register.Width
                    && RunningSums.UnitOf(node) % register.Unit == 0
                    && node.Low % register.Unit == 0;
                if (!hasRoom || !seen.Add(growth.Register))
                {
                    return false;
                }
            }
        }

        // A register that is forgotten would leave its digits behind.
        return seen.Count == _registers.Count;
    }

    private Growth? Grown(Node node)
    {
        var at = Array.FindIndex(node.Args, Reads);
        if (
            node.Op != Op.Linear
            || node.Args.Count(Reads) != 1
            || node.Numbers[at] != 1
            || !_grown.TryGetValue(node.Args[at], out var before)
        )
        {
            return null;
        }

        var parts = node.Args.Select((a, i) => (node.Numbers[i], a)).Where((_, i) => i != at);
        return new Growth(before.Register, before.Constant + node.Value, [.. before.Parts, .. parts]);
    }
}
