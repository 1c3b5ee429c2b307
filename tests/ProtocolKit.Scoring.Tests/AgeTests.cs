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

    /// <summary>Days due, and years and months since birth and corrected; the source counts days besides.</summary>
    [Fact]
    public void R14_ages_since_birth_and_corrected_for_prematurity_of_three_children()
    {
        foreach (var row in Load("age-03-corrected").GetProperty("expected_recomputed").EnumerateArray())
        {
            var (born, seen) = (
                Date(row.GetProperty("birth").GetString()!),
                Date(row.GetProperty("test").GetString()!)
            );
            var weeks = row.GetProperty("gestation_weeks").GetInt32();
            Assert.Equal(Date(row.GetProperty("due_date").GetString()!), Prematurity.Due(born, weeks));
            Assert.Equal(MonthsOf(row.GetProperty("chronological")), Age.Between(born, seen)!.Value.Months);
            Assert.Equal(
                MonthsOf(row.GetProperty("corrected")),
                Prematurity.CorrectedAge(born, weeks, seen)!.Value.Months
            );
        }
    }

    /// <summary>Not by dates: how far the two ages can lie apart holds for every day of birth of four years.</summary>
    [Theory]
    [InlineData(24)]
    [InlineData(34)]
    [InlineData(36)]
    public void R14_the_two_ages_lie_apart_by_what_the_weeks_allow(int weeks)
    {
        var (least, most) = Prematurity.MonthsBetween(weeks);
        for (var day = 0; day < 1461; day++)
        {
            var born = new DateOnly(2019, 1, 1).AddDays(day);
            var seen = new DateOnly(2024, 2, 29);
            var apart =
                Age.Between(born, seen)!.Value.Months
                - Prematurity.CorrectedAge(born, weeks, seen)!.Value.Months;
            Assert.InRange(apart, least, most);
        }
    }

    [Theory]
    [InlineData("born: 2018-03-15", "gestation-weeks: 34", "2020-09-01", "2;4", "2;5")]
    [InlineData("born: 2018-03-15", "gestation-weeks: 37", "2020-09-01", "2;5", null)] // born at term
    [InlineData("born: 2018-03-15", "gestation-weeks: 34", "2021-03-15", "3;0", null)] // old enough
    [InlineData("born: 2018-03-15", "gestation-weeks: 34", "2021-03-14", "2;10", "2;11")]
    [InlineData("born: 2018-03-15", "", "2020-09-01", "2;5", null)] // nothing is known of the weeks
    [InlineData(
        "age-months: 29",
        "gestation-weeks: 34\ncorrected-age-months: 28",
        "2020-09-01",
        "2;4",
        "2;5"
    )]
    public void R14_a_protocol_may_go_by_the_corrected_age(
        string birth,
        string weeks,
        string seen,
        string counts,
        string? sinceBirth
    )
    {
        var record = Corrected(birth, weeks, seen).Record!;
        Assert.Equal(counts, record.Age.ToString());
        Assert.Equal(sinceBirth, record.SinceBirth?.ToString());
        Assert.Equal(record.Age.Months, record.Fields[0]);
        Assert.Equal(
            weeks.Length == 0,
            record.Remarks.Any(r => r.Contains("gestation-weeks", StringComparison.Ordinal))
        );
        var text = RecordWriter.Write(Young, record);
        var again = RecordReader.Read(text, "again.yaml", Young).Record!;
        Assert.Equal(record.Age, again.Age);
        Assert.Equal(record.SinceBirth, again.SinceBirth);
    }

    [Theory]
    [InlineData("age-months: 29", "gestation-weeks: 34", "completed months since birth don't give it")]
    [InlineData("age-months: 29", "gestation-weeks: 34\ncorrected-age-months: 29", "1 to 2 months younger")]
    [InlineData("age-months: 29", "gestation-weeks: 4", "gestation-weeks is")]
    [InlineData("born: 2020-08-30", "gestation-weeks: 24", "before the day it was due")]
    public void R14_a_corrected_age_that_can_not_be_is_refused(string birth, string weeks, string says) =>
        Assert.Contains(
            says,
            Assert.Single(Corrected(birth, weeks, "2020-09-01").Problems).Message,
            StringComparison.Ordinal
        );

    [Fact]
    public void R14_without_the_option_weeks_are_kept_and_change_nothing()
    {
        var record = Records.Sitting(Records.Good + "gestation-weeks: 30\n");
        Assert.Equal(51, record.Age.Months);
        Assert.Equal(30, record.GestationWeeks);
        Assert.Null(record.SinceBirth);
    }

    private static Protocol Young { get; } =
        Tiny.Protocol with
        {
            Ages = new AgeRange(new Age(0), new Age(143)),
            CorrectedUntil = new Age(36),
            Program = Tiny.Protocol.Program with
            {
                Fields =
                [
                    .. Tiny.Protocol.Program.Fields.Select(
                        (f, i) => i == Tiny.Protocol.Program.AgeField ? f with { Low = 0 } : f
                    ),
                ],
            },
        };

    private static RecordReading Corrected(string birth, string weeks, string seen) =>
        RecordReader.Read(
            Records
                .With("age-months: 51", weeks.Length == 0 ? birth : $"{birth}\n{weeks}")
                .Replace("seen: 2026-03-04", $"seen: {seen}", StringComparison.Ordinal),
            "record.yaml",
            Young
        );

    private static int MonthsOf(JsonElement age) => (age[0].GetInt32() * 12) + age[1].GetInt32();

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
