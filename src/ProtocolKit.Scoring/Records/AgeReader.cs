using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <param name="Counts">The age the protocol goes by; nothing, after reporting, where it can't be known.</param>
/// <param name="SinceBirth">The age since birth, where <paramref name="Counts"/> is a corrected one.</param>
internal sealed record AgeRead(Age? Counts, Age? SinceBirth, int? GestationWeeks);

/// <summary>
/// Reads how old the child was: from the day of birth and the first day of the sitting, or from completed months; corrected
/// for prematurity where the protocol says so and the child was born before term and is young enough.
/// </summary>
internal sealed class AgeReader(MapReader map, Protocol protocol, ProblemList problems)
{
    /// <summary>A hundred years in months; more is a slip of the pen.</summary>
    private const int OldestMonths = 1200;

    private const int ShortestPregnancy = 20;
    private const int LongestPregnancy = 45;

    public AgeRead Read(IReadOnlyList<DateOnly> seen)
    {
        RefuseBoth();
        var weeks = Whole(RecordKeys.GestationWeeks, ShortestPregnancy, LongestPregnancy, "34");
        var stated = Whole(RecordKeys.CorrectedAgeMonths, 0, OldestMonths, "28");
        var born = map.Has(RecordKeys.AgeMonths)
            ? null
            : map.Date(RecordKeys.Born, map.Text(RecordKeys.Born));
        var since = map.Has(RecordKeys.AgeMonths) ? Months() : Born(born, seen);
        if (since is not { } age)
        {
            return new AgeRead(null, null, weeks);
        }

        if (protocol.CorrectedUntil is not { } until || age >= until)
        {
            return new AgeRead(age, null, weeks);
        }

        if (weeks is not { } term)
        {
            problems.Remark(
                "The record has no gestation-weeks, so the age was not corrected for prematurity."
            );
            return new AgeRead(age, null, null);
        }

        if (!Prematurity.IsPreterm(term))
        {
            return new AgeRead(age, null, weeks);
        }

        return new AgeRead(Corrected(age, term, born, seen, stated), age, weeks);
    }

    private Age? Corrected(Age age, int weeks, DateOnly? born, IReadOnlyList<DateOnly> seen, int? stated)
    {
        if (born is { } day && seen.Count > 0)
        {
            if (Prematurity.CorrectedAge(day, weeks, seen[0]) is { } corrected)
            {
                return corrected;
            }

            problems.Add(
                map.PlaceOf(RecordKeys.GestationWeeks),
                RecordKeys.GestationWeeks,
                "By these dates the child was seen before the day it was due.",
                "Mend born, gestation-weeks, or the day under parts."
            );
            return null;
        }

        if (stated is not { } months)
        {
            problems.Add(
                map.PlaceOf(RecordKeys.GestationWeeks),
                RecordKeys.CorrectedAgeMonths,
                "This protocol goes by the corrected age of a child born before term, and completed months since birth don't give it.",
                "Give born instead of age-months; or add corrected-age-months, counted from the day the child was due."
            );
            return null;
        }

        var (least, most) = Prematurity.MonthsBetween(weeks);
        if (age.Months - months >= least && age.Months - months <= most)
        {
            return new Age(months);
        }

        problems.Add(
            map.PlaceOf(RecordKeys.CorrectedAgeMonths),
            RecordKeys.CorrectedAgeMonths,
            $"A child born at {weeks} weeks is {least} to {most} months younger by the corrected age, "
                + $"not {age.Months - months}.",
            "Mend age-months, corrected-age-months or gestation-weeks."
        );
        return null;
    }

    private void RefuseBoth()
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
    }

    private int? Whole(string key, int least, int most, string example)
    {
        if (map.Text(key) is not { } text)
        {
            return null;
        }

        if (
            int.TryParse(text.Text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            && number >= least
            && number <= most
        )
        {
            return number;
        }

        problems.Add(
            text.Origin,
            key,
            $"{key} is {Say.Quote(text.Text)}.",
            $"Write a whole number from {least} to {most}, such as {example}."
        );
        return null;
    }

    private Age? Months()
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

    private Age? Born(DateOnly? day, IReadOnlyList<DateOnly> seen)
    {
        if (day is not { } born || seen.Count == 0)
        {
            return null;
        }

        var age = Age.Between(born, seen[0]);
        if (age is { } known && known.Months <= OldestMonths)
        {
            return known;
        }

        problems.Add(
            map.PlaceOf(RecordKeys.Born),
            RecordKeys.Born,
            age is null
                ? "The child was seen before the day of birth."
                : $"By these dates the child was {age} old.",
            "Mend born, or the day under parts."
        );
        return null;
    }
}
