namespace ProtocolKit.Model;

/// <summary>
/// Age corrected for prematurity: counted from the day the child was due, 40 weeks after the pregnancy is counted from.
/// A birth before 37 completed weeks is preterm (World Health Organization). Common practice, no source, for counting from
/// 40 weeks.
/// </summary>
public static class Prematurity
{
    private const int Term = 40;
    private const int FirstTermWeek = 37;

    public static bool IsPreterm(int gestationWeeks) => gestationWeeks < FirstTermWeek;

    /// <summary>The day the child was due.</summary>
    public static DateOnly Due(DateOnly born, int gestationWeeks) =>
        born.AddDays(7 * (Term - gestationWeeks));

    /// <summary>Completed months from the day due to the day seen; null before it was due.</summary>
    public static Age? CorrectedAge(DateOnly born, int gestationWeeks, DateOnly seen) =>
        Age.Between(Due(born, gestationWeeks), seen);

    /// <summary>
    /// How many completed months the corrected age can lie below the age since birth, whatever the dates: months have 28
    /// to 31 days.
    /// </summary>
    public static (int Least, int Most) MonthsBetween(int gestationWeeks)
    {
        var days = 7 * (Term - gestationWeeks);
        return (days / 31, (days / 28) + 1);
    }
}
