using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Reads who rated: a code alone, or a code with role, training, live or recorded, and blind or not.</summary>
internal static class RaterReader
{
    public static Rater? Read(MapReader map, IReadOnlyList<DateOnly> seen, ProblemList problems)
    {
        if (!map.IsMap(RecordKeys.Rater))
        {
            return Code(map, RecordKeys.Rater, map.Text(RecordKeys.Rater), problems) is { } code
                ? new Rater(code)
                : null;
        }

        var level = new MapReader(
            map.Map(RecordKeys.Rater, "code: R1")!,
            RecordKeys.Rater,
            RecordKeys.OfRater,
            problems
        );
        var name = Code(level, RecordKeys.Code, level.Needed(RecordKeys.Code, "R1"), problems);
        var until = level.Date(RecordKeys.TrainedUntil, level.Text(RecordKeys.TrainedUntil));
        var rater = new Rater(
            name ?? "",
            level.Text(RecordKeys.Role)?.Text,
            until,
            OneOf(level, RecordKeys.Rated, RecordKeys.Recorded, RecordKeys.Live, problems),
            OneOf(level, RecordKeys.Blind, RecordKeys.Yes, RecordKeys.No, problems)
        );
        if (until is { } last && seen.Count > 0 && last < seen[^1])
        {
            problems.Remark($"The rater's training held until {Say.Day(last)}, before the child was seen.");
        }

        return rater;
    }

    /// <summary>The two records an agreed one was made from; none for any other.</summary>
    public static IReadOnlyList<OriginalRecord> Originals(MapReader map, ProblemList problems)
    {
        if (!map.Has(RecordKeys.AgreedFrom))
        {
            return [];
        }

        var originals = new List<OriginalRecord>();
        foreach (var entry in map.Maps(RecordKeys.AgreedFrom, "rater: R1"))
        {
            var level = new MapReader(entry, RecordKeys.AgreedFrom, RecordKeys.OfOriginal, problems);
            var rater = Code(level, RecordKeys.Rater, level.Needed(RecordKeys.Rater, "R1"), problems);
            var digest = level.Needed(RecordKeys.Digest, "0123456789abcdef");
            if (digest is not null && !IsDigest(digest.Text))
            {
                problems.Add(
                    digest.Origin,
                    RecordKeys.AgreedFrom,
                    $"{Say.Quote(digest.Text)} is no digest of a record.",
                    "Write its 16 digits and letters: score --format json prints them as digest."
                );
            }

            originals.Add(new OriginalRecord(rater ?? "", digest?.Text.Trim() ?? ""));
        }

        if (
            originals.Count != 2
            || originals[0].Digest == originals[1].Digest
            || originals[0].Rater == originals[1].Rater
        )
        {
            problems.Add(
                map.PlaceOf(RecordKeys.AgreedFrom),
                RecordKeys.AgreedFrom,
                "An agreed record is made from two records of two raters.",
                "Name both, each with its rater and its digest."
            );
        }

        return originals;
    }

    public static string? Code(MapReader map, string key, TextNode? text, ProblemList problems)
    {
        if (text is null || NameGuard.IsCode(text.Text))
        {
            return text?.Text;
        }

        problems.Add(
            text.Origin,
            key,
            $"What stands as {key} is no code. {NameGuard.Message}",
            NameGuard.CodeMend
        );
        return null;
    }

    private static bool IsDigest(string text) =>
        text.Trim().Length == 16 && text.Trim().All(c => c is (>= '0' and <= '9') or (>= 'a' and <= 'f'));

    /// <summary>True for the first word, false for the second; nothing where the key is missing or, reported, another word.</summary>
    private static bool? OneOf(MapReader level, string key, string yes, string no, ProblemList problems)
    {
        if (level.Text(key) is not { } text)
        {
            return null;
        }

        if (text.Text == yes || text.Text == no)
        {
            return text.Text == yes;
        }

        problems.Add(
            text.Origin,
            RecordKeys.Rater,
            $"{key} is {Say.Quote(text.Text)}.",
            $"Write {no} or {yes}."
        );
        return null;
    }
}
