namespace ProtocolKit.Calibration.Ages;

/// <summary>Years, months and days of age.</summary>
public readonly record struct AgeParts(int Years, int Months, int Days)
{
    public int CompleteMonths => (Years * 12) + Months;
}

/// <summary>
/// Age in years, months and days by three rules that differ at month ends. Common practice, no source. Which one a
/// figure used must be said: borrowed months of 30 days differ from the calendar in the days only.
/// </summary>
public static class ChronologicalAge
{
    /// <summary>Column subtraction: a month borrowed is 30 days, a year 12 months.</summary>
    public static AgeParts Borrow30(DateOnly born, DateOnly seen)
    {
        Check(born, seen);
        var (years, months, days) = (seen.Year - born.Year, seen.Month - born.Month, seen.Day - born.Day);
        (months, days) = days < 0 ? (months - 1, days + 30) : (months, days);
        return months < 0 ? new AgeParts(years - 1, months + 12, days) : new AgeParts(years, months, days);
    }

    /// <summary>A month is complete when its day number is reached; days from the anniversary, held at the month's end.</summary>
    public static AgeParts StrictDay(DateOnly born, DateOnly seen)
    {
        Check(born, seen);
        var months = ((seen.Year - born.Year) * 12) + seen.Month - born.Month - (seen.Day < born.Day ? 1 : 0);
        return Parts(born, seen, months);
    }

    /// <summary>A month is complete when birth plus months, held at the month's end, is reached.</summary>
    public static AgeParts ClampedMonthEnd(DateOnly born, DateOnly seen)
    {
        Check(born, seen);
        var months = ((seen.Year - born.Year) * 12) + seen.Month - born.Month;
        return Parts(born, seen, born.AddMonths(months) > seen ? months - 1 : months);
    }

    /// <summary>The date a child born at this gestation (completed weeks) was due: 40 weeks; never before birth.</summary>
    public static DateOnly DueDate(DateOnly born, int gestationWeeks) =>
        born.AddDays(Math.Max(0, 40 - gestationWeeks) * 7);

    private static AgeParts Parts(DateOnly born, DateOnly seen, int months) =>
        new(months / 12, months % 12, seen.DayNumber - born.AddMonths(months).DayNumber);

    private static void Check(DateOnly born, DateOnly seen) =>
        Require.That(seen >= born, "The date of testing lies before the date of birth.");
}
