using System.Globalization;

namespace ProtocolKit.Model;

/// <summary>An age in completed months, written the trade's way: <c>4;6</c> is four years six months.</summary>
public readonly record struct Age(int Months) : IComparable<Age>
{
    /// <summary>
    /// Completed months between two dates. Month m completes on the same day number or, where the month
    /// lacks it, on the 1st of the next month: a child of 29 February completes a year on 1 March.
    /// Null when the second date lies before the first.
    /// </summary>
    public static Age? Between(DateOnly born, DateOnly seen)
    {
        if (seen < born)
        {
            return null;
        }

        var months = ((seen.Year - born.Year) * 12) + seen.Month - born.Month;
        return new Age(seen.Day < born.Day ? months - 1 : months);
    }

    /// <summary>Reads <c>5;3</c>: at most three digits of years, months from 0 to 11.</summary>
    public static bool TryParse(string? text, out Age age)
    {
        age = default;
        var parts = (text ?? "").Split(';');
        if (
            parts.Length != 2
            || parts[0].Length is 0 or > 3
            || parts[1].Length is 0 or > 2
            || !int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var years)
            || !int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var months)
            || months > 11
        )
        {
            return false;
        }

        age = new Age((years * 12) + months);
        return true;
    }

    public int CompareTo(Age other) => Months.CompareTo(other.Months);

    public static bool operator <(Age a, Age b) => a.Months < b.Months;

    public static bool operator >(Age a, Age b) => a.Months > b.Months;

    public static bool operator <=(Age a, Age b) => a.Months <= b.Months;

    public static bool operator >=(Age a, Age b) => a.Months >= b.Months;

    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Months / 12};{Months % 12}");
}

/// <summary>Ages from the first to the last completed month, both included.</summary>
public readonly record struct AgeRange(Age From, Age To)
{
    public bool Contains(Age age) => From <= age && age <= To;

    public bool Overlaps(AgeRange other) => From <= other.To && other.From <= To;

    public override string ToString() => $"{From} to {To}";
}
