using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Who, when and how old, as far as it could be read.</summary>
internal sealed record Sitting(
    string Case,
    Age Age,
    Age? SinceBirth,
    int? GestationWeeks,
    IReadOnlyList<DateOnly> Seen,
    bool IsShortForm,
    Rater? Rater
);

/// <summary>Reads the case, the age, the parts of the sitting, the form and the rater.</summary>
internal static class SittingReader
{
    public static Sitting Read(MapReader map, Protocol protocol, ProblemList problems)
    {
        var seen = Seen(map, problems);
        var age = new AgeReader(map, protocol, problems).Read(seen);
        return new Sitting(
            RaterReader.Code(map, RecordKeys.Case, map.Needed(RecordKeys.Case, "C-014"), problems) ?? "",
            age.Counts ?? protocol.Ages.From,
            age.SinceBirth,
            age.GestationWeeks,
            seen,
            IsShort(map, protocol, problems),
            RaterReader.Read(map, seen, problems)
        );
    }

    private static List<DateOnly> Seen(MapReader map, ProblemList problems)
    {
        const string Example = "seen: 2026-03-14";
        if (!map.Has(RecordKeys.Parts))
        {
            problems.Add(
                map.Origin,
                RecordKeys.Parts,
                "The day of the sitting is missing.",
                $"Add parts: and under it: - {Example}"
            );
            return [];
        }

        var dates = new List<DateOnly>();
        var parts = map.Maps(RecordKeys.Parts, Example);
        foreach (var part in parts)
        {
            var level = new MapReader(part, RecordKeys.Parts, RecordKeys.OfPart, problems);
            var text = level.Needed(RecordKeys.Seen, "2026-03-14");
            if (level.Date(RecordKeys.Seen, text) is not { } date)
            {
                continue;
            }

            if (dates.Count > 0 && date < dates[^1])
            {
                problems.Add(
                    text!.Origin,
                    RecordKeys.Parts,
                    "A later part was seen before an earlier one.",
                    "Put the parts in the order of their days; the first decides the age."
                );
            }

            dates.Add(date);
        }

        if (parts.Count == 0)
        {
            problems.Add(
                map.PlaceOf(RecordKeys.Parts),
                RecordKeys.Parts,
                "The record has no part.",
                $"Write under parts: - {Example}"
            );
        }

        return dates;
    }

    private static bool IsShort(MapReader map, Protocol protocol, ProblemList problems)
    {
        if (!map.Has(RecordKeys.Form) && !protocol.HasShortForm)
        {
            return false;
        }

        var text = map.Needed(RecordKeys.Form, RecordKeys.Full);
        switch (text?.Text)
        {
            case null or RecordKeys.Full:
                return false;
            case RecordKeys.Short when protocol.HasShortForm:
                return true;
            case RecordKeys.Short:
                problems.Add(
                    text.Origin,
                    RecordKeys.Form,
                    "This protocol has no short form.",
                    "Write form: full, and not-planned for each task that wasn't meant to be given."
                );
                return false;
            default:
                problems.Add(
                    text.Origin,
                    RecordKeys.Form,
                    $"form is {Say.Quote(text.Text)}.",
                    "Write full or short."
                );
                return false;
        }
    }
}
