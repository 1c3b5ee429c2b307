using System.Globalization;
using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Which values some nodes take together over all records of a space: every combination that some record gives and no other, with the
/// smallest such record and, if asked for, the number of them.
/// </summary>
internal sealed class Reach
{
    private readonly Graph _graph;
    private readonly Space _space;
    private readonly KnownParts _known;
    private readonly Cone _cone;
    private readonly List<Node> _related;
    private readonly IReadOnlyList<Node> _asked;
    private readonly bool _counts;
    private readonly long _limit;
    private int _differing;
    private readonly bool _isGoal;
    private readonly bool _few;
    private readonly BigInteger _free = BigInteger.One;
    private readonly int[] _columns;
    private IReadOnlyList<Node> _roots;
    private Plan? _plan;
    private ScopePass? _pass;
    private SetPass? _sets;
    private ClassList? _list;
    private RowTable? _rows;

    /// <summary>Distinct rows kept apart at most; beyond it a question is not worked out.</summary>
    public const long Limit = 2_000_000;

    /// <param name="related">Values whose parts belong together, such as scores: they shape the order of work, never the answer.</param>
    /// <param name="known">Parts worked out for earlier questions of the same graph, and those of this one.</param>
    /// <param name="differing">Records with more answers that are not flawless are left out.</param>
    /// <param name="few">Whether only a few cases are looked at: what is then found is so, but something may be missed.</param>
    /// <param name="isGoal">Whether it is asked only if some record makes every root true: other rows may then be missing.</param>
    /// <param name="orRecords">Whether sets that are too large are tried record by record: what no longer matters is then forgotten.</param>
    /// <exception cref="ProofLimitException">There are more than <paramref name="limit"/> cases to keep apart.</exception>
    public Reach(
        Graph graph,
        Space space,
        IReadOnlyList<Node> roots,
        IEnumerable<Node> related,
        bool counts = false,
        long limit = Limit,
        KnownParts? known = null,
        int differing = int.MaxValue,
        bool orRecords = true,
        bool isGoal = false,
        bool few = false
    )
    {
        (_graph, _space, _known, _related) = (graph, space, known ?? new KnownParts(), [.. related]);
        (_counts, _limit, _differing, _isGoal, _few) = (counts, limit, differing, isGoal, few);
        _known.Trials ??= new KeptTrials(space, graph);
        _roots = _asked = _known.Trials.Separate(roots);
        _cone = new Cone(space, _asked, everyCondition: counts);
        _columns = new int[roots.Count];
        Array.Fill(_columns, -1);
        if (counts)
        {
            for (var part = 0; part < space.PartCount; part++)
            {
                _free *=
                    _cone.Leaves.Contains(part) || space.PlaceOf(part).Task < 0
                        ? 1
                        : space.RowsOf(part).Count;
            }
        }

        if (_cone.Leaves.Count > 0 && (counts || differing < int.MaxValue || !FindSets(orRecords, isGoal)))
        {
            FindRecords(isOrdered: false);
        }
    }

    public int Count => _rows?.Count ?? 1;

    public long Value(int row, int root) =>
        _columns[root] < 0 || _rows is null ? _roots[root].Value : _rows.Value(row, _columns[root]);

    /// <summary>Smaller is closer to the flawless sheet; known of the rows that stand after <see cref="Smallest"/>.</summary>
    public long Cost(int row) => _list?.Cost[row] ?? 0;

    /// <summary>Joins that were tried to tell records apart.</summary>
    public long Work => _pass?.Work ?? 0;

    /// <summary>How many records give this row, at one age.</summary>
    public BigInteger Ways(int row) => _free * (_list?.Counts![row] ?? 1);

    /// <summary>The parts of the smallest way to a row that <see cref="Smallest"/> gave, each with the way it is filled.</summary>
    public IReadOnlyList<(int Part, int Filling)> Choices(int row) => _pass?.Choices(row) ?? [];

    /// <summary>The parts of some way to a row, not the smallest, as the sets know it; none where records were told apart.</summary>
    /// <exception cref="ProofLimitException">It takes too much room.</exception>
    public IReadOnlyList<(int Part, int Filling)> SomeChoices(int row) =>
        _pass is null ? [.. (_sets?.Walk(row) ?? []).Where(c => c.Part < _space.PartCount)] : [];

    /// <summary>Whether some record gives a row that satisfies a test.</summary>
    public bool Any(Func<int, bool> test)
    {
        for (var row = 0; row < Count; row++)
        {
            if (test(row))
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The row with the smallest record of those that satisfy a test, or -1. Rows may stand in another order after it.</summary>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart with their records.</exception>
    public int Smallest(Func<int, bool> test)
    {
        if (!Any(test))
        {
            return -1;
        }

        Order();
        var best = -1;
        for (var row = 0; row < Count; row++)
        {
            if (test(row) && (best < 0 || Cost(row) < Cost(best)))
            {
                best = row;
            }
        }

        return best;
    }

    /// <summary>Sets alone are found much faster, and most questions find nothing to show; false where they are too large.</summary>
    private bool FindSets(bool orRecords, bool isGoal)
    {
        try
        {
            var (plan, space) = PlanOfSets();
            var polarity = isGoal ? new Polarity(plan.Roots.Concat(plan.Conditions)) : null;
            _sets = new SetPass(plan, space, _limit, _known, polarity, _few);
            _rows = _sets.Run();
            Show(plan);
            return true;
        }
        catch (ProofLimitException) when (orRecords)
        {
            return false;
        }
    }

    private void FindRecords(bool isOrdered)
    {
        _plan ??= PlanOf(_space, _cone, _related, _asked, forSets: false);
        var polarity = _isGoal ? new Polarity(_plan.Roots.Concat(_plan.Conditions)) : null;
        var pass = new ScopePass(_plan, _space, _counts, _limit, isOrdered, _known, _differing, polarity);
        (_list, _pass) = (pass.Run(), pass); // where it is too large, the sets stay what is known
        _rows = _list.Rows;
        Show(_plan);
    }

    /// <summary>The same among records with more answers that differ from flawless ones.</summary>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public void Widen(int differing)
    {
        _differing = differing;
        FindRecords(isOrdered: false);
    }

    private (Plan, Space) PlanOfSets()
    {
        if (_space.WorthGuessing.Count == 0)
        {
            return (PlanOf(_space, _cone, _related, _asked, forSets: true), _space);
        }

        var space = _known.GuessesOf(_space, _graph);
        List<Node> asked = [.. _asked.Select(space.Of)];
        var cone = new Cone(space, asked, everyCondition: false);
        return (PlanOf(space, cone, [.. _related.Select(space.Of)], asked, forSets: true), space);
    }

    private Plan PlanOf(Space space, Cone cone, List<Node> related, IReadOnlyList<Node> asked, bool forSets)
    {
        var root = Scope.Tree(cone.Leaves, SetsOf(space, cone, related), space.Order);
        return Planner.Of(_graph, root, space.PartOf, asked, cone.Conditions, forSets);
    }

    private void Show(Plan plan)
    {
        _roots = plan.Roots;
        for (var i = 0; i < _columns.Length; i++)
        {
            _columns[i] = _roots[i].IsConstant ? -1 : _rows!.ColumnOf(_roots[i]);
        }
    }

    /// <summary>
    /// Where tasks of different scores lie between one another, telling equally small records apart costs much: it is done once somebody
    /// wants a record.
    /// </summary>
    private void Order()
    {
        if (_rows is not null && _pass is null)
        {
            FindRecords(isOrdered: false);
        }

        if (_pass is { IsOrdered: false } && _plan!.Root.FromTheLeaves().Any(s => !s.IsInOrder))
        {
            FindRecords(isOrdered: true);
        }
    }

    /// <summary>What belongs together: the answers of a trial, the trials of a task, the tasks of a related value.</summary>
    public static IReadOnlyList<(LeafSet Leaves, bool IsWhole)> SetsOf(
        Space space,
        Cone cone,
        IEnumerable<Node> related
    ) =>
        [
            .. TrialSets(space, cone).Select(s => (s, false)),
            .. related.Select(space.SetOf).OfType<LeafSet>().Select(s => (s, true)),
        ];

    private static IEnumerable<LeafSet> TrialSets(Space space, Cone cone)
    {
        var byTask = cone.Leaves.Where(l => space.PlaceOf(l).Task >= 0).GroupBy(l => space.PlaceOf(l).Task);
        foreach (var task in byTask)
        {
            foreach (
                var trial in task.Where(l => space.PlaceOf(l).Trial > 0).GroupBy(l => space.PlaceOf(l).Trial)
            )
            {
                yield return Set(trial);
            }

            yield return Set(task);
        }

        LeafSet Set(IEnumerable<int> leaves)
        {
            var set = new LeafSet(space.PartCount);
            foreach (var leaf in leaves)
            {
                set.Add(leaf);
            }

            return set;
        }
    }
}

/// <summary>What was worked out for earlier questions of the same graph.</summary>
internal sealed class KnownParts
{
    private readonly Dictionary<string, string> _names = new(StringComparer.Ordinal);

    public Dictionary<string, (List<ClassList> Lists, SharedRows Rows)> Lists { get; } =
        new(StringComparer.Ordinal);

    /// <summary>The same as sets, without records.</summary>
    public Dictionary<string, SharedRows> Sets { get; } = new(StringComparer.Ordinal);
    public KeptSteps Steps { get; } = new();
    public KeptTrials? Trials { get; set; }

    private readonly Dictionary<Space, GuessedSpace> _guesses = [];

    public GuessedSpace GuessesOf(Space space, Graph graph)
    {
        if (!_guesses.TryGetValue(space, out var guesses))
        {
            _guesses[space] = guesses = new GuessedSpace(space, graph, space.WorthGuessing);
        }

        return guesses;
    }

    private readonly Dictionary<(PartRows, bool), string> _ofRows = [];

    /// <summary>A short name for the rows of a part, the same for the same values.</summary>
    /// <param name="isFilled">Whether how far each row is from flawless counts besides.</param>
    public string NameOf(PartRows rows, bool isFilled)
    {
        if (!_ofRows.TryGetValue((rows, isFilled), out var name))
        {
            var columns = isFilled ? rows.Values.Append(rows.Cost) : rows.Values;
            _ofRows[(rows, isFilled)] = name = NameOf(
                string.Join('|', columns.Select(c => string.Join(' ', c)))
            );
        }

        return name;
    }

    /// <summary>A short name for a long text, the same for the same one.</summary>
    public string NameOf(string text)
    {
        if (!_names.TryGetValue(text, out var name))
        {
            _names[text] = name = _names.Count.ToString(CultureInfo.InvariantCulture);
        }

        return name;
    }
}

/// <summary>Everything some values read, and the conditions between the parts of a sheet that touch it.</summary>
internal sealed class Cone
{
    private readonly Space _space;

    public Cone(Space space, IReadOnlyList<Node> roots, bool everyCondition)
    {
        _space = space;
        var all = new LeafSet(space.PartCount);
        foreach (var root in roots)
        {
            Take(root, all);
        }

        TakeBehind(all);
        var tasks = all.Leaves().Select(l => space.PlaceOf(l).Task).ToHashSet();
        var conditions = space
            .Conditions.Where(c => !c.Condition.Is(1) && (everyCondition || tasks.Contains(c.Task)))
            .Select(c => c.Condition)
            .ToList();
        conditions.ForEach(c => Take(c, all));
        if (space.Overall(all.Leaves()) is { } overall)
        {
            conditions.Add(overall);
            Take(overall, all);
        }

        Conditions = conditions;
        Leaves = [.. all.Leaves()];
    }

    public IReadOnlyList<int> Leaves { get; }
    public IReadOnlyList<Node> Conditions { get; }

    /// <summary>What a guess is held against belongs to what is read, as if it were read itself.</summary>
    private void TakeBehind(LeafSet all)
    {
        var open = new Queue<int>(all.Leaves());
        var seen = new HashSet<int>(open);
        while (open.TryDequeue(out var part))
        {
            if (_space.Behind(part) is { } actual)
            {
                Take(actual, all);
                foreach (var next in _space.SetOf(actual)!.Leaves().Where(seen.Add))
                {
                    open.Enqueue(next);
                }
            }
        }
    }

    private void Take(Node node, LeafSet into)
    {
        if (_space.SetOf(node) is { } set)
        {
            into.Add(set);
        }
    }
}
