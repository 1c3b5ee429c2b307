using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Sampling;

/// <summary>
/// The forward pass in numbers of records instead of smallest ones, kept whole so that it can be walked backwards: from a row of
/// the result, each pair it comes from in proportion to the records behind it, down to the fillings. Every record of the row is
/// then equally likely (the counts are exact, and so is the draw below them).
/// </summary>
internal sealed class CountingPass
{
    private readonly Plan _plan;
    private readonly RecordSpace _space;
    private readonly HashSet<Node> _conditions;
    private readonly Dictionary<Scope, List<CountedStep>> _steps = [];
    private long _pairsLeft;

    /// <summary>Pairs kept at most: some 200 MB of them.</summary>
    public const long MostPairs = 1 << 24;

    /// <param name="known">Parts counted for earlier questions of the same graph, and those of this one.</param>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public CountingPass(
        Plan plan,
        RecordSpace space,
        Dictionary<string, List<CountedStep>> known,
        long mostPairs = MostPairs
    )
    {
        (_plan, _space, _pairsLeft) = (plan, space, mostPairs);
        _conditions = [.. plan.Conditions];
        var names = new ScopeNames(_conditions);
        foreach (var scope in plan.Root.FromTheLeaves())
        {
            var name = names.Of(scope);
            if (!known.TryGetValue(name, out var steps))
            {
                known[name] = steps = scope.Leaf >= 0 ? [Leaf(scope)] : Joins(scope);
            }

            _steps[scope] = steps;
        }
    }

    /// <summary>The rows of everything together.</summary>
    public CountedStep Result => _steps[_plan.Root][^1];

    /// <summary>Fills one record of a row, each equally likely.</summary>
    public void Draw(int row, Xoshiro256 generator, long[] fields) =>
        Draw(_plan.Root, row, generator, fields);

    private void Draw(Scope scope, int row, Xoshiro256 generator, long[] fields)
    {
        var steps = _steps[scope];
        if (scope.Leaf >= 0)
        {
            var leaf = _space.Leaves[scope.Leaf];
            var ways = steps[0].Starts[row + 1] - steps[0].Starts[row];
            var pick = steps[0].Starts[row] + (int)generator.Below((ulong)ways);
            Put(leaf, leaf.Fillings[steps[0].Joined[pick]], fields);
            return;
        }

        for (var step = steps.Count - 1; step >= 0; step--)
        {
            var child = _steps[scope.Children[step]][^1];
            var pair = Pair(steps[step], step == 0 ? null : steps[step - 1], child, row, generator);
            Draw(scope.Children[step], steps[step].Joined[pair], generator, fields);
            row = steps[step].Before[pair];
        }
    }

    private static int Pair(
        CountedStep step,
        CountedStep? before,
        CountedStep child,
        int row,
        Xoshiro256 generator
    )
    {
        var from = step.Starts[row];
        if (step.Starts[row + 1] - from == 1)
        {
            return from;
        }

        // The first pair whose records, with those of the pairs before it, exceed the number drawn.
        var upTo = step.UpTo(
            row,
            pair => (before?.Counts[step.Before[pair]] ?? 1) * child.Counts[step.Joined[pair]]
        );
        var found = Array.BinarySearch(upTo, generator.Below(step.Counts[row]));
        return from + (found < 0 ? ~found : found + 1);
    }

    internal static void Put(Leaf leaf, Filling filling, long[] fields)
    {
        fields[leaf.ValueField] = filling.Value;
        if (leaf.StateField >= 0)
        {
            fields[leaf.StateField] = filling.State;
        }
    }

    private CountedStep Leaf(Scope scope)
    {
        var rows = _space.RowsOf(scope.Leaf);
        var code = new StepCode();
        var registers = rows.Nodes.Select(code.Input).ToArray();
        code.Add(scope.ValuesAt(0), _conditions);
        var frame = code.Frame();
        var building = new CountedStep.Builder(scope.Outputs, code);
        for (var i = 0; i < rows.Count; i++)
        {
            for (var j = 0; j < registers.Length; j++)
            {
                frame[registers[j]] = rows.Values[j][i];
            }

            if (code.Run(frame))
            {
                building.Add(frame, BigInteger.One, 0, i);
            }
        }

        return Finish(building);
    }

    private List<CountedStep> Joins(Scope scope)
    {
        var steps = new List<CountedStep>();
        var live = ScopePass.LiveAfter(scope);
        for (var step = 0; step < scope.Children.Count; step++)
        {
            steps.Add(Join(scope, step, steps.LastOrDefault(), live[step]));
        }

        return steps;
    }

    private CountedStep Join(Scope scope, int step, CountedStep? before, List<Node> live)
    {
        var child = _steps[scope.Children[step]][^1];
        var code = new StepCode();
        var kept = before?.Rows.Columns.Select(code.Input).ToArray() ?? [];
        var joined = code.Inputs(child.Rows.Columns);
        code.Add(scope.ValuesAt(step), _conditions);
        var building = new CountedStep.Builder(live, code);
        var frame = code.Frame();
        for (var a = 0; a < (before?.Rows.Count ?? 1); a++)
        {
            before?.Rows.Read(a, frame, kept);
            var ways = before?.Counts[a] ?? BigInteger.One;
            for (var b = 0; b < child.Rows.Count; b++)
            {
                child.Rows.Copy(b, frame, joined);
                if (code.Run(frame))
                {
                    building.Add(frame, ways * child.Counts[b], a, b);
                }
            }

            if (building.Pairs > _pairsLeft)
            {
                throw new ProofLimitException("there are too many different ways to keep apart");
            }
        }

        return Finish(building);
    }

    private CountedStep Finish(CountedStep.Builder building)
    {
        _pairsLeft -= building.Pairs;
        return building.Build();
    }
}
