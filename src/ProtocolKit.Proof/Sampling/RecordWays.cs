using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Sampling;

/// <summary>
/// The records of one part of a protocol, told apart by what some lines of its program come to: how many of each, and any of them
/// at random.
/// </summary>
internal sealed class RecordWays
{
    private readonly RecordSpace _space;
    private readonly IReadOnlyList<Node> _roots;
    private readonly CountingPass? _pass;
    private readonly int[] _columns;
    private readonly List<Leaf> _free;

    /// <param name="known">Parts counted for earlier questions of the same form, complete or not, at single months of age.</param>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public RecordWays(
        Questions questions,
        Part part,
        IReadOnlyList<int> lines,
        Dictionary<string, List<CountedStep>> known
    )
    {
        _space = questions.Space(part);
        var graph = questions.GraphOf(part);
        _roots = new KeptTrials(_space, graph).Separate([.. lines.Select(l => questions.Line(part, l))]);
        var cone = new Cone(_space, _roots, everyCondition: true);
        var read = cone.Leaves.ToHashSet();
        _free = [.. _space.Leaves.Where((_, i) => !read.Contains(i))];
        Free = _free.Aggregate(BigInteger.One, (product, leaf) => product * leaf.Fillings.Count);
        if (cone.Leaves.Count > 0)
        {
            var sets = Reach.SetsOf(_space, cone, questions.Related(part));
            var plan = Planner.Of(
                graph,
                Scope.Tree(cone.Leaves, sets, _space.Order),
                _space.PartOf,
                _roots,
                cone.Conditions
            );
            _roots = plan.Roots;
            _pass = new CountingPass(plan, _space, known);
        }

        var columns = _pass?.Result.Rows.Columns.ToList() ?? [];
        _columns = [.. _roots.Select(r => r.IsConstant ? -1 : columns.IndexOf(r))];
    }

    public int Rows => _pass?.Result.Rows.Count ?? 1;

    /// <summary>The number of ways to fill what none of the lines reads.</summary>
    private BigInteger Free { get; }

    public long Value(int row, int line) =>
        _columns[line] < 0 ? _roots[line].Value : _pass!.Result.Rows.Value(row, _columns[line]);

    public BigInteger Count(int row) => Free * (_pass?.Result.Counts[row] ?? 1);

    /// <summary>One record of a row, each equally likely.</summary>
    public long[] Draw(int row, Xoshiro256 generator)
    {
        var fields = (long[])_space.Baseline.Clone();
        _pass?.Draw(row, generator, fields);
        foreach (var leaf in _free)
        {
            CountingPass.Put(leaf, generator.OneOf(leaf.Fillings), fields);
        }

        return fields;
    }
}
