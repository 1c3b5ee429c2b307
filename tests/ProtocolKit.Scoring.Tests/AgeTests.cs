using System.Globalization;
using System.Text.Json;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>
/// Completed months against outside checks. Sources: age-01-boundaries and age-03-corrected (common practice, no
/// source; recomputed with Python's calendar, dateutil as a second library); fragment O8 of the language checks.
/// </summary>
public class AgeTests
{
    public static TheoryData<string, string, int, int, int> Boundaries()
    {
        var data = new TheoryData<string, string, int, int, int>();
        foreach (var row in Load("age-01-boundaries").GetProperty("expected_recomputed").EnumerateArray())
        {
            var months = row.GetProperty("complete_months");
            data.Add(
                row.GetProperty("birth").GetString()!,
                row.GetProperty("test").GetString()!,
                months.GetProperty("strict").GetInt32(),
                months.GetProperty("borrow30").GetInt32(),
                months.GetProperty("clamped").GetInt32()
            );
        }

        return data;
    }

    /// <summary>
    /// Ours is the strict rule: a month is complete when its day number is reached or, lacking it, on the 1st of the
    /// next month. Borrowing 30 days gives the same months. The clamped rule is another convention: a month counts as
    /// complete at the month's end already; where it differs, ours must be one less.
    /// </summary>
    [Theory]
    [MemberData(nameof(Boundaries))]
    public void Months_at_boundary_dates(string born, string seen, int strict, int borrow30, int clamped)
    {
        var age = Age.Between(Date(born), Date(seen));
        Assert.Equal(strict, age!.Value.Months);
        Assert.Equal(borrow30, age.Value.Months);
        if (clamped != strict)
        {
            Assert.Equal(clamped - 1, age.Value.Months);
        }
    }

    /// <summary>Four of the nineteen rows, and no others, follow the clamped convention to another month.</summary>
    [Fact]
    public void The_clamped_convention_differs_only_at_the_ends_of_months()
    {
        var different = Load("age-01-boundaries")
            .GetProperty("expected_recomputed")
            .EnumerateArray()
            .Where(r =>
                r.GetProperty("complete_months").GetProperty("clamped").GetInt32()
                != Age.Between(
                    Date(r.GetProperty("birth").GetString()!),
                    Date(r.GetProperty("test").GetString()!)
                )!.Value.Months
            )
            .Select(r => r.GetProperty("note").GetString());
        Assert.Equal(
            [
                "end of month, leap day test",
                "end of month",
                "leap-day birth, common year 28 Feb",
                "31st to 30th",
            ],
            different
        );
    }

    /// <summary>Only the chronological years and months: an age corrected for prematurity is not computed here.</summary>
    [Fact]
    public void Chronological_months_of_three_children()
    {
        foreach (var row in Load("age-03-corrected").GetProperty("expected_recomputed").EnumerateArray())
        {
            var age = Age.Between(
                Date(row.GetProperty("birth").GetString()!),
                Date(row.GetProperty("test").GetString()!)
            );
            var expected = row.GetProperty("chronological");
            Assert.Equal((expected[0].GetInt32() * 12) + expected[1].GetInt32(), age!.Value.Months);
        }
    }

    /// <summary>Fragment O8, Birthdays.</summary>
    [Theory]
    [InlineData("2020-02-29", "2026-02-28", "5;11", true)]
    [InlineData("2020-02-29", "2026-03-01", "6;0", false)]
    [InlineData("2020-03-15", "2026-03-14", "5;11", true)]
    [InlineData("2020-03-15", "2026-03-15", "6;0", false)]
    public void Birthdays(string born, string seen, string expected, bool isInRow)
    {
        var age = Age.Between(Date(born), Date(seen))!.Value;
        Assert.Equal(expected, age.ToString());
        Assert.Equal(isInRow, new AgeRange(new Age(48), new Age(71)).Contains(age));
    }

    [Fact]
    public void Seen_before_birth_is_no_age() =>
        Assert.Null(Age.Between(Date("2020-03-15"), Date("2020-03-14")));

    /// <summary>The first part decides, and the band follows the age: one day later, another row.</summary>
    [Theory]
    [InlineData("2026-02-28", 71)]
    [InlineData("2026-03-01", 72)]
    public void The_first_part_of_a_record_decides_the_age(string seen, int months)
    {
        var text = Records
            .With("age-months: 51", "born: 2020-02-29")
            .Replace(
                "  - seen: 2026-03-04",
                $"  - seen: {seen}\n  - seen: 2026-04-20",
                StringComparison.Ordinal
            );
        var record = Records.Sitting(text);
        Assert.Equal(months, record.Age.Months);
        Assert.Equal(months, record.Fields[0]);
        Assert.Equal(2, record.Seen.Count);
    }

    private static DateOnly Date(string text) =>
        DateOnly.ParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static JsonElement Load(string id) =>
        JsonDocument
            .Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Checks", id + ".json")))
            .RootElement;
}
