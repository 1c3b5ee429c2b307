using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Values of measures and scores in study records, and which end of them is worse.</summary>
internal static class ScoreValues
{
    /// <summary>Fewer different values than this make a sign or a single rating, not a total worth a table of cuts.</summary>
    private const int FewestValues = 5;

    /// <summary>The value in the outcome's unit; null while it is bounded, blocked or not applicable.</summary>
    public static double? Exact(StudySitting sitting, Outcome outcome) =>
        Result(sitting, outcome) is { IsExact: true } result ? Figures.ToDouble(result.Low) : null;

    public static OutcomeResult Result(StudySitting sitting, Outcome outcome) =>
        sitting.Scored.Outcomes.First(o => o.Outcome.Name == outcome.Name);

    /// <summary>Which outcomes a study is about: those asked for, or the protocol's banded totals.</summary>
    /// <exception cref="StudyRefusedException">A name is no measure or score.</exception>
    public static IReadOnlyList<Outcome> Chosen(Protocol protocol, StudyOptions options)
    {
        if (options.Scores.Count > 0)
        {
            return
            [
                .. options.Scores.Select(name =>
                    protocol.Outcomes.FirstOrDefault(o => o.Name == name)
                    ?? throw new StudyRefusedException(
                        $"\"{name}\" is no measure or score of this protocol. It has: "
                            + string.Join(", ", protocol.Outcomes.Select(o => o.Name))
                            + "."
                    )
                ),
            ];
        }

        var totals = Banded(protocol).Where(o => o.IsScore && IsTotal(o)).ToList();
        return totals.Count > 0 ? totals : [.. protocol.Outcomes.Where(IsTotal)];
    }

    /// <summary>Outcomes with a table of cut-offs for the full form.</summary>
    public static IReadOnlyList<Outcome> Banded(Protocol protocol) =>
        [.. protocol.Outcomes.Where(o => TableOf(protocol, o) is not null)];

    public static CutOffTable? TableOf(Protocol protocol, Outcome outcome) =>
        protocol.CutOffs.FirstOrDefault(t => !t.ShortForm && t.Outcome.Name == outcome.Name);

    /// <summary>True where low values stand in the worst band; null where no table tells.</summary>
    public static bool? LowIsWorse(Protocol protocol, Outcome outcome)
    {
        foreach (var row in TableOf(protocol, outcome)?.Rows ?? [])
        {
            var cells = row.Cells.OfType<CutOffCell>().ToList();
            if (cells.Count > 1)
            {
                return cells[0].From < cells[^1].From;
            }
        }

        return null;
    }

    /// <summary>True with at least five values: a total, time or rate rather than a sign or a single rating.</summary>
    public static bool IsTotal(Outcome outcome) =>
        outcome.Step is { } step && outcome.High - outcome.Low >= step * (FewestValues - 1);
}
