using System.Globalization;
using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// The forward pass: each scope's parts joined one after another, keeping only distinct values that are still read. Every list
/// stands in the order of R22's last rule (the better answer at the earlier task), so of equally small ways the first found is the
/// smallest.
/// </summary>
internal sealed class ScopePass(
    Plan plan,
    Space space,
    bool counts,
    long limit,
    bool isOrdered,
    KnownParts known,
    int differing = int.MaxValue,
    Polarity? polarity = null
)
{
    private const int QuietSteps = 4;

    private readonly Dictionary<Scope, List<ClassList>> _lists = [];
    private readonly HashSet<Node> _conditions = [.. plan.Conditions];
    private readonly WorkBudget _budget = new(limit);

    /// <summary>True where rows stand in the exact order of R22 even where parts lie between one another.</summary>
    public bool IsOrdered => isOrdered;

    /// <summary>Joins that were tried.</summary>
    public long Work => _budget.Spent;

    public ClassList Run()
    {
        var mark = string.Create(
            CultureInfo.InvariantCulture,
            $"{(isOrdered ? "o" : "")}{(counts ? "c" : "")}{(differing < int.MaxValue ? differing : "")}"
        );
        var names = new ScopeShapes(space, _conditions, known, isFilled: true, mark, polarity);
        foreach (var scope in plan.Root.FromTheLeaves())
        {
            var name = names.Of(scope);
            if (known.Lists.TryGetValue(name, out var shared))
            {
                var last = shared.Lists[^1] with { Rows = shared.Rows.As(scope.Outputs) };
                _lists[scope] = [.. shared.Lists.SkipLast(1), last];
                continue;
            }

            var lists = _lists[scope] = [];
            if (scope.Leaf >= 0)
            {
                lists.Add(Leaf(scope));
            }
            else
            {
                Joins(scope, lists);
            }

            if (scope != plan.Root)
            {
                known.Lists[name] = (lists, new SharedRows(lists[^1].Rows, scope.Outputs));
            }
        }

        return _lists[plan.Root][^1];
    }

    /// <summary>The parts of the smallest way to a row of the result, each with the way it is filled.</summary>
    public List<(int Part, int Filling)> Choices(int row)
    {
        var choices = new List<(int, int)>();
        Fill(plan.Root, row, (part, filling) => choices.Add((part, filling)));
        return choices;
    }

    private void Fill(Scope scope, int row, Action<int, int> put)
    {
        var lists = _lists[scope];
        if (scope.Leaf >= 0)
        {
            put(scope.Leaf, lists[0].Joined[row]);
            return;
        }

        for (var step = lists.Count - 1; step >= 0; step--)
        {
            Fill(scope.Children[step], lists[step].Joined[row], put);
            row = lists[step].Before[row];
        }
    }

    private ClassList Leaf(Scope scope)
    {
        var rows = space.RowsOf(scope.Leaf);
        var code = new StepCode();
        var registers = rows.Nodes.Select(code.Input).ToArray();
        code.Add(scope.ValuesAt(0), _conditions);
        var frame = code.Frame();
        var building = new ClassBuilder(scope.Outputs, code.RegisterOf, counts, limit)
        {
            Differing = differing,
        };
        for (var i = 0; i < rows.Count; i++)
        {
            for (var j = 0; j < registers.Length; j++)
            {
                frame[registers[j]] = rows.Values[j][i];
            }

            if (code.Run(frame))
            {
                building.Add(frame, rows.Cost[i], 0, i, BigInteger.One);
            }
        }

        _budget.Spend(rows.Count);
        return building.Build(null);
    }

    private void Joins(Scope scope, List<ClassList> lists)
    {
        var (live, quiet) = (LiveAfter(scope), 0);
        for (var step = 0; step < scope.Children.Count; step++)
        {
            var child = _lists[scope.Children[step]][^1];
            var list = Join(scope, step, step == 0 ? null : lists[step - 1], child, live[step]);
            lists.Add(Kept(list, ref quiet));
        }
    }

    /// <param name="quiet">For how many steps nothing is to be compared: where few rows are behind others, comparing costs more than it saves.</param>
    private ClassList Kept(ClassList list, ref int quiet)
    {
        if (polarity is null || quiet-- > 0)
        {
            return list;
        }

        var kept = Front.Of(list, polarity, _budget);
        quiet = kept.Count * 8L > list.Count * 7L ? QuietSteps : 0;
        return kept;
    }

    private ClassList Join(Scope scope, int step, ClassList? before, ClassList child, List<Node> live)
    {
        var stages = new JoinStages(
            before?.Rows.Columns ?? [],
            [],
            child.Rows,
            scope.ValuesAt(step),
            _conditions,
            live,
            b => child.Cost[b],
            isDistinct: !counts
        );
        var building = new ClassBuilder(live, stages.RegisterOf, counts, limit)
        {
            Residual = Residual.Of(scope, step, live, _conditions),
            Differing = differing,
        };
        var frame = stages.Frame;
        var compare = scope.IsInOrder || !isOrdered ? null : new WayOrder(this, scope, step, space.PartCount);
        building.Compare = compare is null ? null : compare.IsSmaller;
        for (var a = 0; a < (before?.Count ?? 1); a++)
        {
            if (before is not null)
            {
                stages.Read(before.Rows, a);
            }

            var (cost, ways) = before is null
                ? (0L, BigInteger.One)
                : (before.Cost[a], counts ? before.Counts![a] : 0);
            var joinable = stages.Joinable(_budget);
            for (var i = 0; i < joinable.Count; i++)
            {
                var b = joinable.Child(i);
                if (Fits(cost + child.Cost[b]) && stages.Join(joinable, i))
                {
                    building.Add(frame, cost + child.Cost[b], a, b, counts ? ways * child.Counts![b] : 0);
                }
            }

            _budget.Spend(joinable.Count);
        }

        return building.Build(compare is null ? null : compare.Compare);
    }

    /// <summary>No more answers differ than are asked for.</summary>
    private bool Fits(long cost) => differing == int.MaxValue || ClassList.Differing(cost) <= differing;

    /// <summary>For each step, what is known by then and still read later or outside.</summary>
    internal static List<List<Node>> LiveAfter(Scope scope)
    {
        var known = new Dictionary<Node, int>();
        for (var i = 0; i < scope.Children.Count; i++)
        {
            foreach (var node in scope.Children[i].Outputs)
            {
                known[node] = i;
            }
        }

        var last = known.Keys.ToDictionary(n => n, n => known[n]);
        foreach (var (node, step) in scope.Values)
        {
            known[node] = step;
            last.TryAdd(node, step);
            foreach (var arg in node.Args.Where(a => !a.IsConstant))
            {
                last[arg] = Math.Max(last[arg], step);
            }
        }

        foreach (var output in scope.Outputs)
        {
            last[output] = scope.Children.Count;
        }

        return
        [
            .. Enumerable
                .Range(0, scope.Children.Count)
                .Select(s =>
                    known
                        .Where(k => k.Value <= s && (last[k.Key] > s || scope.Outputs.Contains(k.Key)))
                        .Select(k => k.Key)
                        .OrderBy(n => n.Id)
                        .ToList()
                ),
        ];
    }

    /// <summary>Which of two ways is better at the earlier part, for scopes whose parts lie between one another.</summary>
    private sealed class WayOrder(ScopePass pass, Scope scope, int step, int parts)
    {
        private readonly int[] _first = new int[parts];
        private readonly int[] _second = new int[parts];

        public bool IsSmaller(int a, int b, int otherA, int otherB) => Compare((a, b), (otherA, otherB)) < 0;

        public int Compare((int Before, int Joined) x, (int Before, int Joined) y)
        {
            Write(_first, x);
            Write(_second, y);
            return _first.AsSpan().SequenceCompareTo(_second);
        }

        private void Write(int[] into, (int Before, int Joined) way)
        {
            Array.Clear(into);
            pass.Fill(scope.Children[step], way.Joined, (part, filling) => into[part] = filling);
            for (var (at, row) = (step - 1, way.Before); at >= 0; at--)
            {
                var list = pass._lists[scope][at];
                pass.Fill(scope.Children[at], list.Joined[row], (part, filling) => into[part] = filling);
                row = list.Before[row];
            }
        }
    }
}
