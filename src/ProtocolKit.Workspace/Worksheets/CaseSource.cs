using ProtocolKit.Model;
using ProtocolKit.Proof.Sampling;
using ProtocolKit.Scoring;

namespace ProtocolKit.Workspace.Worksheets;

/// <summary>The protocol asks for nothing that this kind of worksheet could practise.</summary>
public sealed class WorksheetRefusedException : Exception
{
    public WorksheetRefusedException() { }

    public WorksheetRefusedException(string message)
        : base(message) { }

    public WorksheetRefusedException(string message, Exception inner)
        : base(message, inner) { }
}

/// <summary>A rated task, side or place as it stands on a drawn record.</summary>
/// <param name="Trials">Points by trial; null where the trial was not needed.</param>
/// <param name="Counts">The points that count.</param>
internal sealed record RatedTask(
    KeptLines Lines,
    string Title,
    IReadOnlyList<Rational?> Trials,
    Rational Counts
)
{
    public Scale Scale => Lines.Response.Scale!;

    public string TrialsInWords =>
        Trials.Count == 1
            ? $"rated {Trials[0]}"
            : string.Join(
                ", ",
                Trials.Select((t, i) => t is { } p ? $"trial {i + 1} rated {p}" : $"no trial {i + 1} needed")
            );

    /// <summary>The level the points are of.</summary>
    public Level Level => Scale.Levels.First(l => l.Points == Counts);
}

/// <summary>Draws invented children: exact uniform samples of complete records of one form.</summary>
internal sealed class CaseSource(Protocol protocol, ulong seed, bool shortForm = false)
{
    private static readonly DateOnly Seen = new(2026, 3, 2);
    private readonly RecordSampler _sampler = new(protocol, shortForm: shortForm);
    private readonly Dictionary<AgeRange, RecordSampler> _byAges = [];

    public Protocol Protocol => protocol;
    public Xoshiro256 Generator { get; } = new(seed);

    /// <summary>Scores that add up ratings and have cut-offs.</summary>
    public IReadOnlyList<OutcomeLines> Totals { get; } =
    [
        .. protocol.Program.Outcomes.Where(o =>
            o.Outcome.Formula.StartsWith("add up", StringComparison.Ordinal)
            && o.Reads.Count > 1
            && TableOf(protocol, o, shortForm) is not null
            && o.Reads.All(key =>
                protocol.Program.Kept.Any(k =>
                    k.Key == key && k.Response.Kind == ResponseKind.Rating && k.Step is null
                )
            )
        ),
    ];

    public OutcomeLines AnyTotal() =>
        Totals.Count > 0
            ? Generator.OneOf(Totals)
            : throw new WorksheetRefusedException(
                "No score of this protocol adds up ratings and has cut-offs, so there is nothing of this kind to practise."
            );

    private static CutOffTable? TableOf(Protocol protocol, OutcomeLines outcome, bool shortForm) =>
        protocol.CutOffs.FirstOrDefault(t =>
            t.Outcome.Name == outcome.Outcome.Name && t.ShortForm == shortForm
        );

    public CutOffTable TableOf(OutcomeLines outcome) => TableOf(protocol, outcome, shortForm)!;

    /// <summary>Tasks of the form.</summary>
    public IEnumerable<ProtocolTask> Tasks => protocol.Tasks.Where(IsOnForm);

    private bool IsOnForm(ProtocolTask task) => task.ShortForm || !shortForm;

    /// <summary>A child for whom a table gives a band, or stands at the very limit of one; every such record equally likely.</summary>
    public ScoredRecord AtBand(OutcomeLines outcome, bool atLimit)
    {
        var table = TableOf(outcome);
        var row = Generator.OneOf(table.Rows);
        var cells = row
            .Cells.Select((c, i) => (Cell: c, Band: table.Bands[i]))
            .Where(c => c.Cell is not null)
            .ToList();
        var (cell, _) = Generator.OneOf(cells);
        var name = outcome.Outcome.Name;
        var wanted = atLimit
            ? new RecordTarget.Total(name, Generator.OneOf(LimitsOf(cells.ConvertAll(c => c.Cell!))))
            : (RecordTarget)new RecordTarget.Between(name, cell!.From, cell.To);
        return Draw(SamplerAt(row.Ages), wanted) ?? Draw(_sampler, new RecordTarget.Any())!;
    }

    public ScoredRecord Anyone() => Draw(_sampler, new RecordTarget.Any())!;

    public IReadOnlyList<RatedTask> Rated(ScoredRecord scored, OutcomeLines outcome) =>
        [
            .. outcome
                .Reads.Select(key => scored.Kept.First(k => k.Lines.Key == key))
                .Where(k => IsOnForm(k.Lines.Task))
                .Select(k => Rated(scored, k)),
        ];

    /// <summary>Every rating of the record that counts.</summary>
    public IReadOnlyList<RatedTask> Rated(ScoredRecord scored) =>
        [
            .. scored
                .Kept.Where(k =>
                    k.Lines.Response.Kind == ResponseKind.Rating
                    && k.State == State.Known
                    && k.Lines.Step is null
                )
                .Select(k => Rated(scored, k)),
        ];

    /// <summary>The band of a value by the table's row for an age.</summary>
    public static (CutOffRow Row, Band? Band) BandOf(CutOffTable table, Age age, Rational value)
    {
        var row = table.Rows.First(r => r.Ages.Contains(age));
        for (var i = 0; i < table.Bands.Count; i++)
        {
            if (row.Cells[i] is { } cell && cell.From <= value && value <= cell.To)
            {
                return (row, table.Bands[i]);
            }
        }

        return (row, null);
    }

    /// <summary>A row of cut-offs in words.</summary>
    public static string RowInWords(CutOffTable table, CutOffRow row) =>
        $"{row.Ages}: "
        + string.Join(
            ", ",
            row.Cells.Select(
                    (c, i) =>
                        c is null ? null
                        : c.From == c.To ? $"{table.Bands[i].Text} {c.From}"
                        : $"{table.Bands[i].Text} {c.From} to {c.To}"
                )
                .OfType<string>()
        );

    /// <summary>The limits at which two bands meet: the ends of all cells but the outermost.</summary>
    private static List<Rational> LimitsOf(List<CutOffCell> cells)
    {
        var all = cells.SelectMany(c => new[] { c.From, c.To }).Order().ToList();
        return all.Count > 2 ? all[1..^1] : all;
    }

    private RecordSampler SamplerAt(AgeRange ages)
    {
        if (!_byAges.TryGetValue(ages, out var sampler))
        {
            _byAges[ages] = sampler = new RecordSampler(protocol, ages, shortForm);
        }

        return sampler;
    }

    private ScoredRecord? Draw(RecordSampler sampler, RecordTarget target) =>
        sampler.Draw(target, 1, Generator).FirstOrDefault() is { } fields
            ? Scorer.Score(
                protocol,
                new SittingRecord
                {
                    Case = "invented",
                    Age = new Age((int)fields[protocol.Program.AgeField]),
                    Seen = [Seen],
                    IsShortForm = shortForm,
                    Fields = fields,
                }
            )
            : null;

    private RatedTask Rated(ScoredRecord scored, KeptResult kept)
    {
        var lines = kept.Lines;
        var slots = protocol
            .Program.Answers.Where(a =>
                a.Task == lines.Task
                && a.Variant == lines.Variant
                && a.Response == lines.Response
                && !a.IsHelp
            )
            .OrderBy(a => a.Trial);
        var levels = lines.Response.Scale!.Levels.Select(l => l.Points).Order().ToList();
        var fields = scored.Record.Fields;
        var side =
            lines.Variant.Name.Length == 0
                ? ""
                : $", {(lines.Task.IsSided ? "child’s " : "")}{lines.Variant.Name}";
        return new RatedTask(
            lines,
            lines.Task.Title + side,
            [
                .. slots.Select(a =>
                    fields[a.StateField] == 0 ? levels[(int)fields[a.ValueField]] : (Rational?)null
                ),
            ],
            levels[(int)scored.Lines[lines.LowLine]]
        );
    }
}
