using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof;

/// <summary>Writes a question of the engine for a solver: the parts it touches, the values it reads, what must hold.</summary>
internal sealed class ProblemWriter
{
    private readonly List<SolverValue> _values = [];
    private readonly Dictionary<Node, int> _places = [];

    private ProblemWriter() { }

    /// <summary>Also which part of the space each part of the problem is.</summary>
    /// <exception cref="ProofLimitException">A part has too many ways to list.</exception>
    public static (SolverProblem Problem, IReadOnlyList<int> Parts) Write(Space space, Node question)
    {
        var cone = new Cone(space, [question], everyCondition: false);
        var writer = new ProblemWriter();
        List<int> holds = [writer.Place(question), .. cone.Conditions.Select(writer.Place)];
        var parts = cone.Leaves.Select(l => writer.Part(space.RowsOf(l))).ToList();
        return (new SolverProblem(parts, writer._values, holds), cone.Leaves);
    }

    private SolverPart Part(PartRows rows) =>
        new(
            [.. rows.Nodes.Select(Place)],
            [
                .. Enumerable
                    .Range(0, rows.Count)
                    .Select(r => rows.Values.Select(column => column[r]).ToArray()),
            ],
            [.. rows.Cost.Select(c => (long)ClassList.Differing(c))],
            [.. rows.Cost.Select(ClassList.StepsOff)]
        );

    private int Place(Node node)
    {
        if (_places.TryGetValue(node, out var known))
        {
            return known;
        }

        var args = node.Args.Select(Place).ToArray();
        _values.Add(new SolverValue(OpOf(node.Op), args, node.Value, node.Numbers, node.Low, node.High));
        return _places[node] = _values.Count - 1;
    }

    private static SolverOp OpOf(Op op) =>
        op switch
        {
            Op.Constant => SolverOp.Constant,
            Op.Field => SolverOp.Field,
            Op.Linear => SolverOp.Linear,
            Op.Multiply => SolverOp.Multiply,
            Op.Least => SolverOp.Least,
            Op.Most => SolverOp.Most,
            Op.Choose => SolverOp.Choose,
            Op.Divide => SolverOp.Divide,
            Op.Pick => SolverOp.Pick,
            Op.Equal => SolverOp.Equal,
            Op.AtMost => SolverOp.AtMost,
            Op.Both => SolverOp.Both,
            Op.Either => SolverOp.Either,
            Op.Not => SolverOp.Not,
            Op.Clamp => SolverOp.Clamp,
            _ => SolverOp.Same,
        };
}
