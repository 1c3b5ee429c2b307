using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Records;

/// <summary>What the second sheet of a pair is to the first.</summary>
internal enum PairKind
{
    /// <summary>The same child on a better day: every answer as good or better, the same ones untried, routing replayed.</summary>
    Better,

    /// <summary>The same sitting with at most one answer untried; what routing then asks for besides stays empty.</summary>
    Refused,
}

/// <summary>
/// Two sheets at once, part by part. Where routing gives a task on one sheet alone, the other's answers to it are blank and say
/// nothing about how they compare.
/// </summary>
internal sealed class PairSpace : Space
{
    private readonly PairKind _kind;
    private readonly PairSpace? _like;
    private readonly int _fields;
    private IReadOnlyList<IReadOnlyList<Node>>? _worthGuessing;
    private readonly Graph _graph;
    private readonly Lazy<IReadOnlyList<(int Task, Node Condition)>> _conditions;
    private readonly (PartRows Rows, int[] First, int[] Second)?[] _rows;

    /// <param name="like">The same at another age.</param>
    public PairSpace(
        Protocol protocol,
        Graph graph,
        AgeRange ages,
        long form,
        bool untried,
        PairKind kind,
        PairSpace? like = null
    )
        : base(like)
    {
        (_kind, _graph, _fields, _like) = (kind, graph, protocol.Program.Fields.Count, like);
        First = new RecordSpace(protocol, graph, ages, form, untried, keepsAnswers: true, like: like?.First);
        // A refusal makes an untried answer out of one that was given; what is looked for stays.
        Second = new RecordSpace(
            protocol,
            graph,
            ages,
            form,
            untried || kind == PairKind.Refused,
            _fields,
            keepsAnswers: true,
            like: like?.Second,
            unlooked: untried
        );
        _rows = new (PartRows, int[], int[])?[First.PartCount];
        _conditions = new(() =>
            [
                .. First.Conditions,
                .. Second.Conditions,
                .. Between(),
                .. kind == PairKind.Better ? FurtherTrials() : [],
            ]
        );
    }

    public RecordSpace First { get; }
    public RecordSpace Second { get; }
    public override int PartCount => First.PartCount;
    public override IReadOnlyList<(int Task, Node Condition)> Conditions => _conditions.Value;

    public override (int Task, int Trial) PlaceOf(int part) => First.PlaceOf(part);

    public override int PartOf(int field) =>
        field >= 2 * _fields
            ? field - (2 * _fields)
            : First.LeafOf(field >= _fields ? field - _fields : field);

    public override PartRows RowsOf(int part) => Pairs(part).Rows;

    /// <summary>Both sheets, with some of their parts filled.</summary>
    public (long[] First, long[] Second) Sheets(IReadOnlyList<(int Part, int Filling)> filled) =>
        (
            First.Sheet(filled.Select(f => (f.Part, Pairs(f.Part).First[f.Filling]))),
            Second.Sheet(filled.Select(f => (f.Part, Pairs(f.Part).Second[f.Filling])))
        );

    /// <summary>Whether two sheets of these ages and this form are a pair: each answer as it may be, and every condition kept.</summary>
    public bool Holds(long[] first, long[] second)
    {
        var values = new NodeValues(field =>
            field >= 2 * _fields ? TurnedAt((int)field - (2 * _fields), first, second)
            : field >= _fields ? second[field - _fields]
            : first[field]
        );
        return Enumerable.Range(1, PartCount - 1).All(p => Fits(p, first, second))
            && Conditions.All(c => values.Of(c.Condition) == 1)
            && (Overall(Enumerable.Range(0, PartCount)) is not { } overall || values.Of(overall) == 1);
    }

    private bool Fits(int part, long[] first, long[] second)
    {
        var (leaf, from, to) = (
            First.Leaves[part],
            At(First.Leaves[part], first),
            At(Second.Leaves[part], second)
        );
        return from is { } a
            && to is { } b
            && (
                _kind == PairKind.Better
                    ? leaf.Order == 0 && !leaf.MayBeBlank
                        ? a.Value == b.Value && a.State == b.State
                        : IsBetter(leaf, a, b)
                    : IsRefused(leaf, a, b)
            );
    }

    private static Filling? At(Leaf leaf, long[] fields)
    {
        var (value, state) = (fields[leaf.ValueField], leaf.StateField < 0 ? 0 : fields[leaf.StateField]);
        return leaf
            .Fillings.Where(f => f.Value == value && f.State == state)
            .Select(f => (Filling?)f)
            .FirstOrDefault();
    }

    private long TurnedAt(int part, long[] first, long[] second) =>
        At(First.Leaves[part], first) is { } a && At(Second.Leaves[part], second) is { } b && IsTurned(a, b)
            ? 1
            : 0;

    /// <summary>Which way a field of the first sheet may go to the second.</summary>
    /// <param name="isGiven">Whether routed tasks are looked at only where both sheets give them.</param>
    public Way WayOf(int field, bool isGiven)
    {
        var leaf = First.Leaves[First.LeafOf(field)];
        if (leaf.IsFurther || (leaf.MayBeBlank && !isGiven))
        {
            return Way.Either;
        }

        if (field == leaf.StateField)
        {
            return _kind == PairKind.Better ? Way.Same : Way.MayRise;
        }

        // The value of an untried answer is never read, so it may as well be what it was.
        if (_kind == PairKind.Refused)
        {
            return Way.Same;
        }

        return leaf.Order switch
        {
            > 0 => Way.MayRise,
            < 0 => Way.MayFall,
            _ => Way.Same,
        };
    }

    /// <summary>
    /// A sign that was looked for on one sheet was on the other; on a better one it may no longer be seen. Null where the field's own
    /// direction says all.
    /// </summary>
    public Way? WayWhereIs(int field, long value, bool isGiven)
    {
        var leaf = First.Leaves[First.LeafOf(field)];
        if (!leaf.IsObservation || _kind != PairKind.Better || (leaf.MayBeBlank && !isGiven))
        {
            return null;
        }

        return value switch
        {
            1 => Way.MayRise,
            2 => Way.MayFall,
            _ => Way.Same,
        };
    }

    public override IReadOnlyList<IReadOnlyList<Node>> WorthGuessing =>
        _worthGuessing ??= Shared(First.Routed, Second.Routed);

    private (PartRows Rows, int[] First, int[] Second) Pairs(int part) =>
        _rows[part] ??= _like is null || part == 0 ? ListPairs(part) : _like.Pairs(part);

    private (PartRows, int[], int[]) ListPairs(int part)
    {
        var (first, second) = (First.Leaves[part], Second.Leaves[part]);
        var pairs = (_kind == PairKind.Better ? Better(first, second) : Refused(first, second)).ToList();
        if (pairs.Count > Leaf.Most)
        {
            throw new ProofLimitException("two sheets differ in too many ways at one answer");
        }

        var (nodes, values) = (new List<Node>(), new List<long[]>());
        Column(First.Fields[first.ValueField], p => first.Fillings[p.First].Value);
        if (part > 0)
        {
            Column(Second.Fields[second.ValueField], p => second.Fillings[p.Second].Value);
        }

        if (first.StateField >= 0)
        {
            Column(First.Fields[first.StateField], p => first.Fillings[p.First].State);
            Column(Second.Fields[second.StateField], p => second.Fillings[p.Second].State);
        }

        if (_kind == PairKind.Refused && CanBeRefused(second))
        {
            Column(Turned(part), p => IsTurned(first.Fillings[p.First], second.Fillings[p.Second]) ? 1 : 0);
        }

        var rows = new PartRows(
            [.. nodes],
            [.. values],
            [
                .. pairs.Select(p =>
                    ClassList.CostOf(first.Fillings[p.First].Badness)
                    + ClassList.CostOf(second.Fillings[p.Second].Badness)
                ),
            ]
        );
        return (rows, [.. pairs.Select(p => p.First)], [.. pairs.Select(p => p.Second)]);

        void Column(Node node, Func<(int First, int Second), long> value)
        {
            if (!node.IsConstant)
            {
                nodes.Add(node);
                values.Add([.. pairs.Select(value)]);
            }
        }
    }

    private static bool CanBeRefused(Leaf leaf) => leaf.StateField >= 0;

    private static bool IsTurned(Filling first, Filling second) =>
        first.State == 0 && ((State)second.State).IsUntried();

    private Node Turned(int part) => _graph.Field((2 * _fields) + part, 0, 1, []);

    private static IEnumerable<(int First, int Second)> Better(Leaf first, Leaf second)
    {
        for (var i = 0; i < first.Fillings.Count; i++)
        {
            if (first.Order == 0 && !first.MayBeBlank)
            {
                yield return (i, i);
                continue;
            }

            for (var j = 0; j < second.Fillings.Count; j++)
            {
                if (IsBetter(first, first.Fillings[i], second.Fillings[j]))
                {
                    yield return (i, j);
                }
            }
        }
    }

    private static bool IsBetter(Leaf leaf, Filling first, Filling second)
    {
        var (blankFirst, blankSecond) = (leaf.IsBlank(first), leaf.IsBlank(second));
        if (blankFirst || blankSecond)
        {
            return leaf.MayBeBlank || (blankFirst && blankSecond);
        }

        return first.State != 0 || second.State != 0 ? first.State == second.State
            : leaf.Order > 0 ? second.Value >= first.Value
            : leaf.Order < 0 ? second.Value <= first.Value
            : first.Value == second.Value;
    }

    private static IEnumerable<(int First, int Second)> Refused(Leaf first, Leaf second)
    {
        for (var i = 0; i < first.Fillings.Count; i++)
        {
            var from = first.Fillings[i];
            for (var j = 0; j < second.Fillings.Count; j++)
            {
                var to = second.Fillings[j];
                if (IsRefused(first, from, to))
                {
                    yield return (i, j);
                }
            }
        }
    }

    private static bool IsRefused(Leaf leaf, Filling first, Filling second) =>
        (first.Value == second.Value && first.State == second.State)
        || IsTurned(first, second)
        || (leaf.IsRouted && IsRerouted(leaf, first, second));

    /// <summary>Given on one sheet alone: blank where it isn't, and left empty where only the refusal brought it up.</summary>
    private static bool IsRerouted(Leaf leaf, Filling first, Filling second) =>
        leaf.IsBlank(second)
        || (leaf.IsBlank(first) && (leaf.IsObservation || second.State == (long)State.NotPlanned));

    /// <summary>Where a task is given on both sheets, neither has a blank that the other lacks.</summary>
    private IEnumerable<(int Task, Node Condition)> Between()
    {
        foreach (var giving in First.Protocol.Program.Giving)
        {
            var (first, second) = (First.Lines.Line(giving.GivenLine), Second.Lines.Line(giving.GivenLine));
            var bothGiven = _graph.Both([first, second]);
            foreach (var leaf in First.Leaves.Where(l => l.IsRouted && l.IsOf(giving)))
            {
                if (leaf.Trial > 1 && _kind == PairKind.Better)
                {
                    continue;
                }

                var same = SameBlank(leaf);
                yield return (leaf.Task, _graph.Either([_graph.Not(bothGiven), same]));
            }
        }
    }

    /// <summary>
    /// After an untried trial the next may be given or not: that is no answer, so a better sheet has it just as the other.
    /// </summary>
    private IEnumerable<(int Task, Node Condition)> FurtherTrials()
    {
        var slots = First.Protocol.Program.Answers.ToDictionary(a => a.ValueField);
        foreach (var leaf in First.Leaves.Where(l => l.IsFurther))
        {
            var rule = slots[leaf.ValueField].Task.Trials.FurtherWhen!;
            var decides = First.Leaves.FirstOrDefault(l =>
                l.Owner == leaf.Owner
                && l.Trial == leaf.Trial - 1
                && l.StateField >= 0
                && slots[l.ValueField].Response.Name == rule.Response
            );
            if (decides is not null)
            {
                var known = new[] { First, Second }.Select(s =>
                    _graph.Equal(s.Fields[decides.StateField], _graph.Zero)
                );
                var bothGiven = First
                    .Protocol.Program.Giving.Where(leaf.IsOf)
                    .Select(g =>
                        _graph.Both([First.Lines.Line(g.GivenLine), Second.Lines.Line(g.GivenLine)])
                    );
                yield return (
                    leaf.Task,
                    _graph.Either([.. known, SameBlank(leaf), .. bothGiven.Select(_graph.Not)])
                );
            }
        }
    }

    private Node SameBlank(Leaf leaf)
    {
        var field = leaf.IsObservation ? leaf.ValueField : leaf.StateField;
        var blank = _graph.Constant(leaf.IsObservation ? 0 : (long)State.NotApplicable);
        var (a, b) = (_graph.Equal(First.Fields[field], blank), _graph.Equal(Second.Fields[field], blank));
        return _graph.Choose(a, b, _graph.Not(b));
    }

    /// <summary>At most one answer of the second sheet is untried where the first has one.</summary>
    public override Node? Overall(IEnumerable<int> parts)
    {
        var turned = parts.Where(p => CanBeRefused(Second.Leaves[p])).Select(p => (1L, Turned(p)));
        return _kind == PairKind.Better ? null : _graph.AtMost(_graph.Linear(0, turned), _graph.One);
    }
}
