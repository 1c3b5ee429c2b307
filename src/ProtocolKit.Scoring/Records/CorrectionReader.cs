using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Reads who corrected what, when and why.</summary>
internal sealed class CorrectionReader(MapReader map, ProblemList problems)
{
    /// <param name="seen">The days of the sitting: nothing is corrected before the first.</param>
    public List<Correction> Read(IReadOnlyList<DateOnly> seen) =>
        [.. map.Maps(RecordKeys.Corrections, "who: SLP-02").Select(c => Read(c, seen)).OfType<Correction>()];

    private Correction? Read(MapNode entry, IReadOnlyList<DateOnly> seen)
    {
        var level = new MapReader(entry, RecordKeys.Corrections, RecordKeys.OfCorrection, problems);
        var who = level.Needed("who", "SLP-02");
        if (who is not null && !NameGuard.IsCode(who.Text))
        {
            problems.Add(
                who.Origin,
                RecordKeys.Corrections,
                $"What stands as who is no code. {NameGuard.Message}",
                NameGuard.CodeMend
            );
        }

        var day = level.Needed("when", "2026-03-14");
        var when = level.Date("when", day);
        if (when is { } date && seen.Count > 0 && date < seen[0])
        {
            problems.Add(
                day!.Origin,
                RecordKeys.Corrections,
                "A correction was made before the child was seen.",
                "Mend its day, or the day under parts."
            );
        }

        var why = level.Needed("why", "misread the sheet");
        var key = level.Needed("key", "the full name of the answer");
        var old = level.Needed("old", "1");
        var now = level.Needed("new", "2");
        return who is null || when is null || why is null || key is null || old is null || now is null
            ? null
            : new Correction(who.Text, when.Value, why.Text, old.Text, now.Text, key.Text);
    }
}
