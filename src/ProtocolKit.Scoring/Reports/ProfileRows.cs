using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>The scores that can be drawn on a range: those with cut-offs at the child's age and more than two values.</summary>
internal static class ProfileRows
{
    public static List<ProfileRow> Of(ScoredRecord scored) =>
        [
            .. NoteScores
                .Told(scored)
                .Where(o => o.Outcome is { IsScore: true, Step: not null })
                .Select(o =>
                    (Result: o, NoteScores.BandOf(scored, o)?.Row, Bands: Bands(NoteScores.BandOf(scored, o)))
                )
                .Where(r => r.Row is not null && r.Bands.Count > 0)
                .Select(r => Row(scored, r.Result, r.Bands))
                .Where(r => HasMiddle(r)),
        ];

    private static bool HasMiddle(ProfileRow row) =>
        row.Best != row.Worst && row.Bands.Count > 1 && row.Bands.Any(b => b.From != b.To);

    private static ProfileRow Row(ScoredRecord scored, OutcomeResult result, List<ProfileBand> bands)
    {
        var (least, most) = (bands.Min(b => b.From), bands.Max(b => b.To));
        var lessIsBetter = bands[0].From > bands[^1].From;
        var isKnown = result.State == State.Known;
        return new(
            result.Outcome.Title,
            lessIsBetter ? most : least,
            lessIsBetter ? least : most,
            isKnown ? result.Low : null,
            isKnown ? result.High : null,
            NoteScores.Short(scored, result).Value,
            NoteScores.Short(scored, result).Band,
            bands
        );
    }

    /// <summary>From the worst to the best, as the table has them.</summary>
    private static List<ProfileBand> Bands(BandResult? band) =>
        band?.Row is not { } row
            ? []
            :
            [
                .. band
                    .Table.Bands.Zip(row.Cells)
                    .Where(p => p.Second is not null)
                    .Select(p => new ProfileBand(BandSentences.Name(p.First), p.Second!.From, p.Second.To)),
            ];
}
