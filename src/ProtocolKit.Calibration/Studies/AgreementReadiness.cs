using System.Globalization;
using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>The protocol's readiness rule, for each rater beside all others who rated the same sittings.</summary>
internal sealed class AgreementReadiness(Protocol protocol, RaterPairs pairs, StudyOptions options)
{
    /// <summary>Null where the protocol has no readiness rule.</summary>
    public EvidenceSection? Section() =>
        protocol.Readiness is not { } rule
            ? null
            : new EvidenceSection(
                "Ready to rate alone?",
                [$"The protocol’s rule: {rule.Text}, after at least {rule.Records} records rated by both."],
                [Table(rule)],
                []
            );

    private EvidenceTable Table(Readiness rule) =>
        new(
            "readiness",
            "Each rater beside the others",
            [
                Figures.Column("rater", "Rater"),
                Figures.Column("rule", "Rule"),
                Figures.Column("records", "Records with another"),
                Figures.Column("compared", "Compared"),
                Figures.Column("agreed", "Agreed"),
                Figures.Column("share", "Share"),
                Figures.IntervalColumn("interval", Figures.Percent(options.Confidence) + " (Wilson)"),
                Figures.Column("asked", "Asked"),
                Figures.Column("met", "Met"),
            ],
            [
                .. pairs.Raters.SelectMany(rater =>
                    rule.Checks.Select(check => Row(rule, check, rater, Beside(rater)))
                ),
            ],
            "Counted over a rater’s records and those of every other rater of the same sittings. The rule asks for the share, not for its interval: where the interval "
                + "reaches below what is asked, more records are needed to be sure. Several answers of one child are not independent, so such intervals are too narrow. "
                + "Whether the other rater is the trained one, only the clinic knows."
        );

    private IReadOnlyList<EvidenceCell> Row(
        Readiness rule,
        ReadinessCheck check,
        string rater,
        List<(StudySitting First, StudySitting Second)> records
    )
    {
        var alike = records.SelectMany(r => Compared(check, r.First, r.Second)).ToList();
        var agreed = alike.Count(a => a);
        Interval? interval =
            alike.Count == 0 ? null : ProportionIntervals.Wilson(agreed, alike.Count, options.Confidence);
        return
        [
            EvidenceCell.Of(rater),
            EvidenceCell.Of(Words(check)),
            EvidenceCell.Of(records.Count),
            EvidenceCell.Of(alike.Count),
            EvidenceCell.Of(agreed),
            EvidenceCell.Of(alike.Count == 0 ? null : (double)agreed / alike.Count),
            Figures.Between(interval),
            EvidenceCell.Of(check.Percent / 100.0),
            EvidenceCell.Of(Verdict(rule, check, records.Count, agreed, alike.Count)),
        ];
    }

    private static string Verdict(
        Readiness rule,
        ReadinessCheck check,
        int records,
        int agreed,
        int compared
    ) =>
        records < rule.Records
            ? string.Create(CultureInfo.InvariantCulture, $"too few records: {records} of {rule.Records}")
        : compared == 0 ? "nothing to compare"
        : agreed * 100 >= check.Percent * compared ? "yes"
        : "no";

    /// <summary>Whether each comparable pair of values is as alike as the rule asks.</summary>
    private IEnumerable<bool> Compared(ReadinessCheck check, StudySitting first, StudySitting second) =>
        check.Kind switch
        {
            ReadinessKind.SameAnswer => protocol
                .Program.Kept.Where(k => k.Response.Name == check.Of && Known(first, k) && Known(second, k))
                .Select(k => first.Scored.Lines[k.LowLine] == second.Scored.Lines[k.LowLine]),
            ReadinessKind.CloseValue => Close(check, first, second),
            ReadinessKind.SameBand => Bands(check, first, second),
            _ => [first.Scored.Headline?.Name == second.Scored.Headline?.Name],
        };

    private IEnumerable<bool> Close(ReadinessCheck check, StudySitting first, StudySitting second)
    {
        var outcome = protocol.Outcomes.First(o => o.Name == check.Of);
        var (a, b) = (ScoreValues.Result(first, outcome), ScoreValues.Result(second, outcome));
        if (a.IsExact && b.IsExact)
        {
            var apart = a.Low - b.Low;
            yield return (apart.Sign < 0 ? b.Low - a.Low : apart) <= check.Within;
        }
    }

    private static IEnumerable<bool> Bands(ReadinessCheck check, StudySitting first, StudySitting second) =>
        from a in first.Scored.Bands
        where !a.Table.ShortForm && a.Table.Outcome.Name == check.Of && a.Band is not null
        from b in second.Scored.Bands
        where ReferenceEquals(a.Table, b.Table) && b.Band is not null
        select a.Band!.Name == b.Band!.Name;

    private List<(StudySitting First, StudySitting Second)> Beside(string rater) =>
        [
            .. pairs
                .Sittings.Where(s => s.ContainsKey(rater))
                .SelectMany(s =>
                    pairs
                        .Raters.Where(r => r != rater && s.ContainsKey(r))
                        .Select(other => (s[rater], s[other]))
                ),
        ];

    private string Words(ReadinessCheck check) =>
        check.Kind switch
        {
            ReadinessKind.SameAnswer => $"same {Names.ToWords(check.Of)}",
            ReadinessKind.CloseValue => $"{Title(check.Of)}: at most {check.Within} apart",
            ReadinessKind.SameBand => $"{Title(check.Of)}: same band",
            _ => "same action first",
        };

    private string Title(string name) => protocol.Outcomes.First(o => o.Name == name).Title;

    private static bool Known(StudySitting sitting, KeptLines kept) =>
        (State)sitting.Scored.Lines[kept.StateLine] == State.Known
        && sitting.Scored.Lines[kept.LowLine] == sitting.Scored.Lines[kept.HighLine];
}
