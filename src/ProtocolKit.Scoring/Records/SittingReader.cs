using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Who, when and how old, as far as it could be read.</summary>
internal sealed record Sitting(
    string Case,
    Age Age,
    IReadOnlyList<DateOnly> Seen,
    bool IsShortForm,
    string? Rater
);

/// <summary>Reads the case, the age, the parts of the sitting, the form and the rater.</summary>
internal static class SittingReader
{
    /// <summary>A hundred years in months; more is a slip of the pen.</summary>
    private const int OldestMonths = 1200;

    public static Sitting Read(MapReader map, Protocol protocol, ProblemList problems)
    {
        var seen = Seen(map, problems);
        return new Sitting(
            Code(map, RecordKeys.Case, map.Needed(RecordKeys.Case, "C-014"), problems) ?? "",
            ReadAge(map, seen, problems) ?? protocol.Ages.From,
            seen,
            IsShort(map, protocol, problems),
            Code(map, RecordKeys.Rater, map.Text(RecordKeys.Rater), problems)
        );
    }

    private static string? Code(MapReader map, string key, TextNode? text, ProblemList problems)
    {
        if (text is null || NameGuard.IsCode(text.Text))
        {
            return text?.Text;
        }

        problems.Add(
            map.PlaceOf(key),
            key,
            $"What stands as {key} is no code. {NameGuard.Message}",
            NameGuard.CodeMend
        );
        return null;
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

    private static Age? ReadAge(MapReader map, List<DateOnly> seen, ProblemList problems)
    {
        if (map.Has(RecordKeys.AgeMonths) && map.Has(RecordKeys.Born))
        {
            problems.Add(
                map.PlaceOf(RecordKeys.Born),
                RecordKeys.Born,
                "Both age-months and born are given.",
                "Keep one of them; age-months says less about the child."
            );
        }
        else if (!map.Has(RecordKeys.AgeMonths) && !map.Has(RecordKeys.Born))
        {
            problems.Add(
                map.Origin,
                RecordKeys.AgeMonths,
                "The age is missing.",
                "Add a line such as: age-months: 54"
            );
        }

        return map.Has(RecordKeys.AgeMonths) ? Months(map, problems) : Born(map, seen, problems);
    }

    private static Age? Months(MapReader map, ProblemList problems)
    {
        if (map.Text(RecordKeys.AgeMonths) is not { } text)
        {
            return null;
        }

        if (
            int.TryParse(text.Text, NumberStyles.None, CultureInfo.InvariantCulture, out var months)
            && months <= OldestMonths
        )
        {
            return new Age(months);
        }

        problems.Add(
            text.Origin,
            RecordKeys.AgeMonths,
            $"age-months is {Say.Quote(text.Text)}, which is no number of completed months.",
            AgeInMonths(text.Text) is { } meant
                ? $"Write {meant}."
                : "Write a whole number, such as 54 for 4;6."
        );
        return null;
    }

    /// <summary>What someone meant who wrote an age the trade's way.</summary>
    private static string? AgeInMonths(string text)
    {
        var parts = text.Split(';');
        return
            parts.Length == 2
            && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var years)
            && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var months)
            && years < 100
            && months < 12
            ? ((years * 12) + months).ToString(CultureInfo.InvariantCulture)
            : null;
    }

    private static Age? Born(MapReader map, List<DateOnly> seen, ProblemList problems)
    {
        var text = map.Text(RecordKeys.Born);
        if (map.Date(RecordKeys.Born, text) is not { } born || seen.Count == 0)
        {
            return null;
        }

        if (Age.Between(born, seen[0]) is not { } age)
        {
            problems.Add(
                text!.Origin,
                RecordKeys.Born,
                "The child was seen before the day of birth.",
                "Mend born, or the day under parts."
            );
            return null;
        }

        if (age.Months > OldestMonths)
        {
            problems.Add(
                text!.Origin,
                RecordKeys.Born,
                $"By these dates the child was {age} old.",
                "Mend born, or the day under parts."
            );
            return null;
        }

        return age;
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
