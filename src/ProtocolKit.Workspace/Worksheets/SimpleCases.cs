using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Workspace.Worksheets;

/// <summary>Cases to rate, to add up, to work out an age, and to compare two raters.</summary>
internal static class SimpleCases
{
    private const int TasksToRate = 6;

    public static PracticeCase Rate(CaseSource source, Vignettes vignettes, int number)
    {
        var rated = source.Rated(source.Anyone());
        if (rated.Count == 0)
        {
            throw new WorksheetRefusedException(
                "The protocol rates nothing, so there is nothing of this kind to practise."
            );
        }

        var chosen = source
            .Generator.Shuffle(rated)
            .Take(TasksToRate)
            .OrderBy(t => t.Lines.Task.Number)
            .ToList();
        var told = chosen.ConvertAll(t => source.Generator.OneOf(vignettes.Of(t.Scale, t.Counts)));
        return new PracticeCase(
            number,
            "Rate each task by the levels of its scale, as on its cue card.",
            [],
            ["Task", "What you see", "Rating"],
            [.. chosen.Zip(told, (t, text) => new[] { t.Title, text, "" })],
            [],
            [.. chosen.Select(t => $"{t.Title}: {t.Counts}. The level says “{t.Level.Text}”")]
        );
    }

    public static PracticeCase Total(CaseSource source, int number)
    {
        var outcome = source.AnyTotal();

        // Every other case lies at the very limit of a band, where mistakes are made.
        var scored = source.AtBand(outcome, atLimit: number % 2 == 0);
        var rated = source.Rated(scored, outcome);
        var most = rated.Max(t => t.Trials.Count);
        return new PracticeCase(
            number,
            $"Find what counts of each task, add up {outcome.Outcome.Title}, and find its band.",
            [("Age", scored.Age.ToString()), .. CutOffs(source.TableOf(outcome))],
            ["Task", .. Enumerable.Range(1, most).Select(i => most == 1 ? "Rated" : $"Trial {i}"), "Counts"],
            [
                .. rated.Select(t =>
                    (IReadOnlyList<string>)
                        [
                            t.Title,
                            .. Enumerable
                                .Range(0, most)
                                .Select(i => t.Trials.ElementAtOrDefault(i)?.ToString() ?? "–"),
                            "",
                        ]
                ),
            ],
            [$"{outcome.Outcome.Title}:", "Row of the cut-offs:", "Band:"],
            KeyOfTotal(source, scored, outcome, rated)
        );
    }

    /// <summary>What counts, the sum, the row, the band, and the sentences that score says of it.</summary>
    public static List<string> KeyOfTotal(
        CaseSource source,
        ScoredRecord scored,
        OutcomeLines outcome,
        IReadOnlyList<RatedTask> rated
    )
    {
        var table = source.TableOf(outcome);
        var total = rated.Aggregate(Rational.Zero, (sum, t) => sum + t.Counts);
        var (row, band) = CaseSource.BandOf(table, scored.Age, total);
        var key = rated.Where(t => t.Trials.Count > 1).Select(Kept).ToList();
        key.Add($"{outcome.Outcome.Title}: {string.Join(" + ", rated.Select(t => t.Counts))} = {total}.");
        key.Add($"The row for {scored.Age} is {CaseSource.RowInWords(table, row)}.");
        key.Add($"{total} lies in {band?.Text ?? "no band"}; both ends of a band belong to it.");
        if (table.Basis.IsProvisional)
        {
            key.Add($"These cut-offs are provisional: {table.Basis.Text}.");
        }

        key.AddRange(
            Explanation
                .Of(scored)
                .Outcomes.Where(o => o.Name == outcome.Outcome.Name)
                .Select(o => $"As score says it: {o.Text}")
        );
        return key;
    }

    public static string Kept(RatedTask task) =>
        $"{task.Title}: {task.TrialsInWords}; "
        + task.Lines.Task.Trials.Keep switch
        {
            Keep.Highest => "the highest counts",
            Keep.Lowest => "the lowest counts",
            Keep.First => "the first counts",
            Keep.Last => "the last counts",
            _ => "what counts",
        }
        + $": {task.Counts}.";

    public static PracticeCase AgeOnTheDay(CaseSource source, int number)
    {
        var (born, seen) = InventedDays.Of(source.Protocol.Ages, source.Generator, number);
        return new PracticeCase(
            number,
            "Work out the age in years and completed months on the day of the sitting.",
            [("Born", InventedDays.Text(born)), ("Seen", InventedDays.Text(seen))],
            [],
            [],
            ["Completed months:", "Age (years;months):"],
            InventedDays.Key(born, seen)
        );
    }

    public static PracticeCase Raters(CaseSource source, int number)
    {
        var outcome = source.AnyTotal();
        var scored = source.AtBand(outcome, atLimit: number % 2 == 0);
        var first = source.Rated(scored, outcome);
        var second = first.Select(t => Second(t, source.Generator)).ToList();
        var (one, two) = (Sum(first.Select(t => t.Counts)), Sum(second));
        var same = first.Zip(second).Count(p => p.First.Counts == p.Second);
        var table = source.TableOf(outcome);
        var (row, bandOfOne) = CaseSource.BandOf(table, scored.Age, one);
        var bandOfTwo = CaseSource.BandOf(table, scored.Age, two).Band;
        var percent = new Rational(100 * same, first.Count).RoundHalfUp();
        return new PracticeCase(
            number,
            $"Two raters saw the same recording. Compare what counts for them in {outcome.Outcome.Title}.",
            [("Age", scored.Age.ToString()), .. CutOffs(table)],
            ["Task", "Rater A", "Rater B", "Same?"],
            [.. first.Zip(second, (a, b) => new[] { a.Title, a.Counts.ToString(), b.ToString(), "" })],
            [
                "Tasks with the same rating, in percent:",
                "Total of A, total of B:",
                "Bands, and are they the same?",
            ],
            [
                $"{same} of {first.Count} tasks have the same rating: {percent} percent, a half rounded up.",
                .. first
                    .Zip(second)
                    .Where(p => p.First.Counts != p.Second)
                    .Select(p =>
                        $"{p.First.Title}: A gives {p.First.Counts}, “{p.First.Level.Text}”; B gives {p.Second}."
                    ),
                $"A: {one}. B: {two}. They differ by {Distance(one, two)}.",
                $"The row for {scored.Age} is {CaseSource.RowInWords(table, row)}.",
                $"A lies in {bandOfOne?.Text ?? "no band"}, B in {bandOfTwo?.Text ?? "no band"}: "
                    + (
                        bandOfOne == bandOfTwo
                            ? "the same."
                            : "not the same, so they talk it over and make an agreed record; both stay as they are."
                    ),
                "Agreement in percent counts what two raters agree on by chance too; it is a beginning, not a measure of reliability.",
            ]
        );
    }

    /// <summary>A line for each row, as the student has to choose among them.</summary>
    private static IEnumerable<(string, string)> CutOffs(CutOffTable table) =>
        table.Rows.Select((r, i) => (i == 0 ? "Cut-offs" : "", CaseSource.RowInWords(table, r)));

    private static Rational Sum(IEnumerable<Rational> points) =>
        points.Aggregate(Rational.Zero, (a, b) => a + b);

    private static Rational Distance(Rational a, Rational b) => a > b ? a - b : b - a;

    /// <summary>One in three ratings is another level, most often the next.</summary>
    private static Rational Second(RatedTask task, Xoshiro256 generator)
    {
        var others = task.Scale.Levels.Select(l => l.Points).Where(p => p != task.Counts).ToList();
        return others.Count > 0 && generator.Below(3UL) == 0 ? generator.OneOf(others) : task.Counts;
    }
}

/// <summary>Days of birth and of sittings that are awkward on purpose.</summary>
internal static class InventedDays
{
    public static string Text(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>By turns: any day; a day before the month is complete; the end of a month; 29 February.</summary>
    public static (DateOnly Born, DateOnly Seen) Of(AgeRange ages, Xoshiro256 generator, int turn)
    {
        var months = (int)generator.Between(ages.From.Months + 1, ages.To.Months);
        var seen = new DateOnly(2026, 1, 1).AddDays((int)generator.Between(0, 364));
        var leap = Years(seen).Where(DateTime.IsLeapYear).Select(y => new DateOnly(y, 2, 29));
        var ends = Years(seen).Select(y => new DateOnly(y, 12, 31));
        return (turn % 4) switch
        {
            1 => (seen.AddMonths(-months).AddDays(1), seen),

            // Born on the 31st, seen where the month is shorter.
            2 when Fitting(ends, new DateOnly(2026, 6, 30)) is { Count: > 0 } days => (
                generator.OneOf(days),
                new DateOnly(2026, 6, 30)
            ),
            3 when Fitting(leap, new DateOnly(2026, 2, 28)) is { Count: > 0 } days => (
                generator.OneOf(days),
                new DateOnly(2026, 2, 28)
            ),
            _ => (seen.AddMonths(-months).AddDays(-(int)generator.Between(0, 20)), seen),
        };

        IEnumerable<int> Years(DateOnly day) =>
            Enumerable.Range(day.Year - (ages.To.Months / 12) - 1, (ages.To.Months / 12) + 1);

        List<DateOnly> Fitting(IEnumerable<DateOnly> born, DateOnly on) =>
            [.. born.Where(b => Age.Between(b, on) is { } age && ages.Contains(age))];
    }

    /// <summary>A birthday for an age that is known: seen on the eve of a month's completion, or some days after it.</summary>
    public static (DateOnly Born, DateOnly Seen) Exactly(Age age, Xoshiro256 generator, bool isEve)
    {
        var seen = new DateOnly(2026, 3, (int)generator.Between(10, 20));
        return isEve
            ? (seen.AddMonths(-age.Months - 1).AddDays(1), seen)
            : (seen.AddMonths(-age.Months).AddDays(-(int)generator.Between(0, 9)), seen);
    }

    private static string Nth(int day) =>
        day.ToString(CultureInfo.InvariantCulture)
        + (day % 10) switch
        {
            1 when day != 11 => "st",
            2 when day != 12 => "nd",
            3 when day != 13 => "rd",
            _ => "th",
        };

    public static List<string> Key(DateOnly born, DateOnly seen)
    {
        var age = Age.Between(born, seen)!.Value;
        var begun = ((seen.Year - born.Year) * 12) + seen.Month - born.Month;
        var key = new List<string>
        {
            string.Create(
                CultureInfo.InvariantCulture,
                $"From the month of birth to the month of the sitting: {seen.Year - born.Year} × 12 {(seen.Month >= born.Month ? "+" : "−")} {Math.Abs(seen.Month - born.Month)} = {begun} months."
            ),
            seen.Day < born.Day
                ? $"The {Nth(seen.Day)} comes before the {Nth(born.Day)}: the last month is not complete, so it is {age.Months}."
                : $"The {Nth(seen.Day)} is not before the {Nth(born.Day)}: the last month is complete, so it stays {age.Months}.",
        };
        if (born.Day > 28)
        {
            key.Add(
                "A month is complete on the same day number or, where the month has no such day, on the 1st of the next month."
            );
        }

        key.Add($"{age.Months} months are {age.Months / 12} years and {age.Months % 12} months: {age}.");
        return key;
    }
}
