using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Records;

/// <summary>One way to fill a part of a sheet: a number for each of its fields, and how far that is from flawless.</summary>
/// <param name="Badness">0 flawless; a worse answer has more, an untried one more than any level.</param>
internal readonly record struct Filling(long Value, long State, long Badness);

/// <summary>A part of a sheet that is filled by itself: an answer with its state, an observation, or the age.</summary>
/// <param name="StateField">-1 where it has none.</param>
/// <param name="Task">Parts of one task, or of one side or place of it, share a number; -1 for the age.</param>
/// <param name="Trial">0 for observations.</param>
/// <param name="States">All states it can have, ascending.</param>
internal sealed record Leaf(
    int ValueField,
    int StateField,
    int Task,
    int Trial,
    long Low,
    long High,
    long[] States,
    Func<IEnumerable<Filling>> All
)
{
    /// <summary>1 where a larger value is the better one, -1 where a smaller one is, 0 where neither is.</summary>
    public int Order { get; init; }
    public bool IsObservation { get; init; }

    /// <summary>Routing may keep it from being given.</summary>
    public bool IsRouted { get; init; }

    /// <summary>It may be left blank: by routing, or as a further trial that is not needed.</summary>
    public bool MayBeBlank { get; init; }

    /// <summary>A further trial, blank where it is not needed.</summary>
    public bool IsFurther { get; init; }

    /// <summary>Its task and side or place.</summary>
    public (string Task, string Variant) Owner { get; init; }

    public bool IsBlank(Filling filling) =>
        IsObservation ? filling.Value == 0 : filling.State == (long)State.NotApplicable;

    public bool IsOf(GivingLines giving) => Owner == (giving.Task.Name, giving.Variant.Name);

    /// <summary>More fillings than this are never listed.</summary>
    public const long Most = 1 << 21;

    private IReadOnlyList<Filling>? _fillings;

    public Filling Flawless => All().First();

    /// <summary>From the best to the worst; the place in this list is the order of R22.</summary>
    /// <exception cref="ProofLimitException">There are too many to list.</exception>
    public IReadOnlyList<Filling> Fillings =>
        High - Low > Most
            ? throw new ProofLimitException("an answer has more than two million values")
            : _fillings ??= [.. All()];
}

/// <summary>
/// All records of one form at some ages, complete or with untried answers: which parts a sheet has, what each can hold, and
/// what must hold between them. A complete record has every answer its routing asks for and every observation looked for.
/// </summary>
internal sealed class RecordSpace : Space
{
    private readonly PartRows?[] _rows;
    private readonly Lazy<IReadOnlyDictionary<int, Node>> _chosen;
    private readonly Dictionary<int, int> _leafOfField = [];
    private readonly RecordSpace? _like;
    private readonly SheetParts _parts;
    private readonly long[] _baseline;
    private readonly Lazy<long[]> _settled;
    private readonly Lazy<IReadOnlyList<(int Task, Node Condition)>> _conditions;
    private IReadOnlyList<IReadOnlyList<Node>>? _worthGuessing;

    private readonly int _offset;
    private readonly HashSet<int> _fixed;

    /// <param name="offset">Added to the number of each field of the graph, so that two sheets can stand side by side; the age is one.</param>
    /// <param name="keepsAnswers">Whether kept ratings are seen as wholes too.</param>
    /// <param name="like">The same at another age.</param>
    /// <param name="fixedUntried">States of answers that are untried in every record.</param>
    /// <param name="unlooked">Whether an observation of a task that is given may be missing; null: as answers may be untried.</param>
    public RecordSpace(
        Protocol protocol,
        Graph graph,
        AgeRange ages,
        long form,
        bool untried,
        int offset = 0,
        bool keepsAnswers = false,
        HashSet<int>? fixedUntried = null,
        RecordSpace? like = null,
        bool? unlooked = null
    )
        : base(like)
    {
        (_offset, _fixed, _like) = (offset, fixedUntried ?? [], like);
        Protocol = protocol;
        (Ages, Form, HasUntried) = (ages, form, untried);
        var program = protocol.Program;
        var fields = new Node[program.Fields.Count];
        _baseline = new long[program.Fields.Count];
        var parts = _parts = like?._parts ?? new SheetParts(protocol, form, untried, unlooked ?? untried);
        Leaves =
        [
            new Leaf(
                program.AgeField,
                -1,
                -1,
                0,
                ages.From.Months,
                ages.To.Months,
                [0],
                () => AgeFillings(ages)
            ),
            .. parts.Leaves,
        ];
        for (var i = 0; i < fields.Length; i++)
        {
            _baseline[i] = Math.Clamp(0, program.Fields[i].Low, program.Fields[i].High);
            fields[i] = graph.Constant(_baseline[i]);
        }

        foreach (var (leaf, index) in Leaves.Select((l, i) => (l, i)))
        {
            Lay(graph, leaf, index, fields);
        }

        fields[program.FormField] = graph.Constant(form);
        _baseline[program.FormField] = form;
        foreach (var (field, value) in parts.Absent)
        {
            fields[field] = graph.Constant(value);
            _baseline[field] = value;
        }

        _rows = new PartRows?[Leaves.Count];
        _chosen = new(Chosen);
        Lines = new ProgramGraph(graph, program, fields, keepsAnswers, like: like?.Lines);
        Fields = fields;
        _conditions = new(() => new SheetConditions(this, graph).All());
        _settled = new(() =>
        {
            parts.Settle(_baseline, _ => true);
            return _baseline;
        });
    }

    public Protocol Protocol { get; }
    public AgeRange Ages { get; }
    public long Form { get; }
    public bool HasUntried { get; }
    public ProgramGraph Lines { get; }
    public IReadOnlyList<Node> Fields { get; }

    /// <summary>In giving order.</summary>
    public IReadOnlyList<Leaf> Leaves { get; }

    /// <summary>By task: what must hold between the parts of its sheet.</summary>
    public override IReadOnlyList<(int Task, Node Condition)> Conditions => _conditions.Value;

    public override IReadOnlyDictionary<int, Node> ChosenTrials => _chosen.Value;
    public override int PartCount => Leaves.Count;

    public override int PartOf(int field) => LeafOf(field);

    public override (int Task, int Trial) PlaceOf(int part) => (Leaves[part].Task, Leaves[part].Trial);

    /// <summary>Of all parts only the age's are others at another age.</summary>
    public override PartRows RowsOf(int part) =>
        _rows[part] ??= _like is null || part == 0 ? ReadRows(Leaves[part]) : _like.RowsOf(part);

    public override IReadOnlyList<IReadOnlyList<Node>> WorthGuessing => _worthGuessing ??= Shared(Routed);

    /// <summary>By task that routing may leave out: what gives it, and the parts that this decides about.</summary>
    public IReadOnlyList<(Node Given, IReadOnlyList<int> Parts)> Routed =>
        [.. Protocol.Program.Giving.Select(g => (Lines.Line(g.GivenLine), PartsOf(g)))];

    private IReadOnlyList<int> PartsOf(GivingLines giving) =>
        [.. Enumerable.Range(0, PartCount).Where(p => Leaves[p].IsRouted && Leaves[p].IsOf(giving))];

    /// <summary>The flawless sheet, one value a field.</summary>
    public long[] Baseline => _settled.Value;

    /// <summary>Makes the rest of a record canonical, once its decided parts are filled.</summary>
    public void Settle(long[] fields, Func<int, bool> isFree) => _parts.Settle(fields, isFree);

    /// <inheritdoc cref="SheetParts.Settle(RunningLines, long[], Func{int, bool}, State?)"/>
    public void Settle(RunningLines lines, long[] fields, Func<int, bool> isFree, State? comesUp = null) =>
        _parts.Settle(lines, fields, isFree, comesUp);

    /// <summary>The part that holds a field, or -1.</summary>
    public int LeafOf(int field) => _leafOfField.GetValueOrDefault(field, -1);

    /// <summary>The sheet with some of its parts filled, the rest flawless, and canonical.</summary>
    public long[] Sheet(IEnumerable<(int Part, int Filling)> filled)
    {
        var fields = (long[])Baseline.Clone();
        var fixedFields = new HashSet<int>();
        foreach (var (part, filling) in filled)
        {
            var leaf = Leaves[part];
            fixedFields.Add(leaf.ValueField);
            fields[leaf.ValueField] = leaf.Fillings[filling].Value;
            if (leaf.StateField >= 0)
            {
                fields[leaf.StateField] = leaf.Fillings[filling].State;
            }
        }

        Settle(fields, f => !fixedFields.Contains(f));
        return fields;
    }

    private PartRows ReadRows(Leaf leaf)
    {
        var (nodes, values) = (new List<Node>(), new List<long[]>());
        if (!Fields[leaf.ValueField].IsConstant)
        {
            nodes.Add(Fields[leaf.ValueField]);
            values.Add([.. leaf.Fillings.Select(f => f.Value)]);
        }

        if (leaf.StateField >= 0 && !Fields[leaf.StateField].IsConstant)
        {
            nodes.Add(Fields[leaf.StateField]);
            values.Add([.. leaf.Fillings.Select(f => f.State)]);
        }

        return new PartRows(
            [.. nodes],
            [.. values],
            [.. leaf.Fillings.Select(f => ClassList.CostOf(f.Badness))]
        );
    }

    private Dictionary<int, Node> Chosen()
    {
        var chosen = new Dictionary<int, Node>();
        var slots = Protocol.Program.Answers.ToLookup(a => (a.Task.Name, a.Variant.Name));
        foreach (var kept in Protocol.Program.Kept.Where(k => k.TrialLine >= 0))
        {
            var leaf = LeafOf(slots[(kept.Task.Name, kept.Variant.Name)].First().ValueField);
            var line = leaf < 0 ? null : Lines.Line(kept.TrialLine);
            if (line is { IsConstant: false })
            {
                chosen[Leaves[leaf].Task] = line;
            }
        }

        return chosen;
    }

    /// <summary>The youngest first; age is no answer, so none is worse than another by number, only later.</summary>
    private static IEnumerable<Filling> AgeFillings(AgeRange ages) =>
        Enumerable
            .Range(ages.From.Months, ages.To.Months - ages.From.Months + 1)
            .Select(m => new Filling(m, 0, 0));

    /// <summary>One graph holds the sheets of all ages: named by its months, the age of one is not taken for that of another.</summary>
    public static Node AgeField(Graph graph, ScoringProgram program, AgeRange ages)
    {
        var (from, to) = (ages.From.Months, ages.To.Months);
        return graph.Field(
            program.AgeField,
            from,
            to,
            [.. Enumerable.Range(from, to - from + 1).Select(m => (long)m)]
        );
    }

    private void Lay(Graph graph, Leaf leaf, int index, Node[] fields)
    {
        _leafOfField[leaf.ValueField] = index;
        var offset = leaf.Task < 0 ? 0 : _offset;
        fields[leaf.ValueField] =
            _fixed.Contains(leaf.StateField) ? graph.Constant(leaf.Low)
            : leaf.Task < 0 ? AgeField(graph, Protocol.Program, Ages)
            : graph.Field(leaf.ValueField + offset, leaf.Low, leaf.High, []);
        _baseline[leaf.ValueField] = leaf.Flawless.Value;
        if (leaf.StateField >= 0)
        {
            _leafOfField[leaf.StateField] = index;
            fields[leaf.StateField] = _fixed.Contains(leaf.StateField)
                ? graph.Constant((long)State.Refused)
                : graph.Field(leaf.StateField + offset, leaf.States[0], leaf.States[^1], leaf.States);
            _baseline[leaf.StateField] = leaf.Flawless.State;
        }
    }
}
