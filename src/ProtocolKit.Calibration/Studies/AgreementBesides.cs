using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Agreement on what stands beside the answers: codes of what was not tried, help, observations.</summary>
internal sealed class AgreementBesides(RaterPair pair, StudyOptions options)
{
    private readonly ScoringProgram _program = pair.Sittings[0].First.Scored.Protocol.Program;

    /// <summary>Whether an answer was tried at all, and by which code not, over all kept answers.</summary>
    public EvidenceTable Codes()
    {
        var states = _program
            .Kept.SelectMany(k =>
                pair.Sittings.Select(s => (First: StateOf(s.First, k), Second: StateOf(s.Second, k)))
            )
            .Where(s => s.First != State.NotApplicable && s.Second != State.NotApplicable)
            .ToList();
        var rows = States
            .Untried.Select(u =>
                Row(u.Words, states.Select(s => (s.First == u.State, s.Second == u.State)).ToList())
            )
            .Prepend(
                Row("any code", states.Select(s => (s.First.IsUntried(), s.Second.IsUntried())).ToList())
            )
            .ToList();
        return Table("codes", "What was not tried", "Code", rows);
    }

    /// <summary>Which help was noted, over all tasks with a ladder.</summary>
    public EvidenceTable Help()
    {
        var parts = _program
            .Kept.Where(k => k.Task.Help.Count > 0)
            .Select(k =>
                (k.Task, Key: k.Variant.Name.Length == 0 ? k.Task.Name : $"{k.Task.Name}.{k.Variant.Name}")
            )
            .DistinctBy(p => p.Key)
            .ToList();
        var noted = parts
            .SelectMany(p =>
                pair.Sittings.Select(s => (First: RungOf(s.First, p.Key), Second: RungOf(s.Second, p.Key)))
            )
            .ToList();
        var rows = parts
            .SelectMany(p => p.Task.Help.Select(h => h.Text))
            .Distinct()
            .Select(rung => Row(rung, noted.Select(n => (n.First == rung, n.Second == rung)).ToList()))
            .Prepend(Row("any help", noted.Select(n => (n.First.Length > 0, n.Second.Length > 0)).ToList()))
            .ToList();
        return Table("help", "Help", "Help", rows);
    }

    /// <summary>What was noted at a task, over all tasks where both looked; null where both never did.</summary>
    public EvidenceTable? Observations()
    {
        var looked = _program
            .Observations.SelectMany(o =>
                pair.Sittings.Select(s =>
                    (o.Observation.Text, First: Seen(s.First, o), Second: Seen(s.Second, o))
                )
            )
            .Where(n => n.First is not null && n.Second is not null)
            .ToList();
        var rows = looked
            .GroupBy(n => n.Text)
            .Select(g => Row(g.Key, g.Select(n => (n.First!.Value, n.Second!.Value)).ToList()))
            .ToList();
        return rows.Count == 0 ? null : Table("observations", "Observations", "Observation", rows);
    }

    private EvidenceTable Table(
        string name,
        string title,
        string what,
        IReadOnlyList<IReadOnlyList<EvidenceCell>> rows
    ) =>
        new(
            name,
            title,
            [
                Figures.Column(name, what),
                Figures.Column("both", "Both"),
                Figures.Column("first-only", $"{pair.First} only"),
                Figures.Column("second-only", $"{pair.Second} only"),
                Figures.Column("neither", "Neither"),
                Figures.Column("specific", "Agreement where used"),
                Figures.Column("kappa", "Kappa"),
            ],
            rows,
            "Counted over all tasks and sittings together. A child’s tasks are not independent of each other, so no interval is given. "
                + "Agreement where used: of all times one of the two wrote it, how often the other did too."
        );

    private IReadOnlyList<EvidenceCell> Row(string name, List<(bool First, bool Second)> values)
    {
        var counts = new[]
        {
            values.Count(v => v is (true, true)),
            values.Count(v => v is (true, false)),
            values.Count(v => v is (false, true)),
            values.Count(v => v is (false, false)),
        };
        var table = Figures.OrNull(() =>
            AgreementTable.FromCounts([
                [counts[0], counts[1]],
                [counts[2], counts[3]],
            ])
        );
        return
        [
            EvidenceCell.Of(name),
            .. counts.Select(EvidenceCell.Of),
            EvidenceCell.Of(
                Figures.NumberOrNull(() =>
                    table is null ? null : AgreementIndices.SpecificAgreement(table, 0)
                ),
                2,
                "never used"
            ),
            EvidenceCell.Of(
                Figures.NumberOrNull(() =>
                    table is null ? null : CohenKappa.Of(table, WeightKind.Identity, options.Confidence).Kappa
                )
            ),
        ];
    }

    private static State StateOf(StudySitting sitting, KeptLines kept) =>
        (State)sitting.Scored.Lines[kept.StateLine];

    /// <summary>Whether it was seen; null where nobody looked.</summary>
    private static bool? Seen(StudySitting sitting, ObservationSlot slot) =>
        sitting.Scored.Record.Fields[slot.Field] switch
        {
            1 => false,
            2 => true,
            _ => null,
        };

    private static string RungOf(StudySitting sitting, string part) =>
        sitting.Scored.Record.Help.TryGetValue(part, out var rung) ? rung : "";
}
