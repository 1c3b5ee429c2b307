using System.Globalization;
using System.Text.RegularExpressions;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Emit.Worksheets;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Files;
using ProtocolKit.Workspace.Worksheets;

namespace ProtocolKit.Workspace.Tests.Worksheets;

/// <summary>Practice cases of the example. What must come out is worked out here from the sheet's own cells.</summary>
public sealed partial class WorksheetTests
{
    private static readonly ProtocolFile File = ProtocolFile.Open(
        Library.PathOf("quillmere-screen.protocol")
    );

    private static PracticeSheet Sheet(WorksheetKind kind, int cases = 8, ulong seed = 7) =>
        WorksheetMaker.Make(File, kind, cases, seed);

    public static TheoryData<WorksheetKind> Kinds => [.. Enum.GetValues<WorksheetKind>()];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_same_seed_gives_the_same_bytes_and_another_seed_other_cases(WorksheetKind kind)
    {
        Assert.Equal(Pages(Sheet(kind)), Pages(Sheet(kind)));
        Assert.NotEqual(Pages(Sheet(kind))[0], Pages(Sheet(kind, seed: 8))[0]);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_page_says_that_its_cases_are_invented_and_keeps_its_cautions(WorksheetKind kind)
    {
        foreach (var page in Pages(Sheet(kind, 2)))
        {
            // The head of a table is printed again on each page, and the running foot stands on each as well.
            Assert.Contains(
                $"<thead><tr><th><p class=\"invented\">{WorksheetPages.Invented}</p>",
                page,
                StringComparison.Ordinal
            );
            Assert.Matches(@"@bottom-left \{ content: [^}]*INVENTED CASE", page);
            foreach (
                var duty in new[]
                {
                    Duties.Agreement,
                    Duties.StopSigns,
                    Duties.Hygiene,
                    Duties.Postpone,
                    Duties.WhoGives,
                    Duties.NoDiagnosis,
                    Duties.NonSpeech,
                }
            )
            {
                Assert.Contains(
                    HtmlContext.Escape(duty.In(Library.Quillmere)),
                    page,
                    StringComparison.Ordinal
                );
            }

            Assert.Contains("provisional", page, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_key_of_a_total_is_the_sum_of_what_counts_and_the_band_of_its_row()
    {
        foreach (var one in Sheet(WorksheetKind.Total, 30).Cases)
        {
            // In the example the highest of up to two trials counts everywhere.
            var sum = one.Rows.Sum(r => r.Skip(1).Where(c => c.Length == 1 && char.IsDigit(c[0])).Max(Whole));
            Assert.All(one.Rows, r => Assert.Equal("", r[^1]));
            Assert.Contains(one.Key, k => k.EndsWith($" = {sum}.", StringComparison.Ordinal));
            var row = one.Key.First(k => k.StartsWith("The row for", StringComparison.Ordinal));
            var band = Cell().Matches(row).First(m => Lies(sum, m)).Groups["band"].Value;
            Assert.Contains(one.Key, k => k.StartsWith($"{sum} lies in {band}", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Every_other_total_stands_at_the_limit_of_a_band()
    {
        foreach (var one in Sheet(WorksheetKind.Total, 20).Cases.Where(c => c.Number % 2 == 0))
        {
            var sum = Whole(
                one.Key.First(k => k.Contains(" lies in ", StringComparison.Ordinal)).Split(' ')[0]
            );
            var row = one.Key.First(k => k.StartsWith("The row for", StringComparison.Ordinal));
            Assert.Contains(
                Cell().Matches(row).SelectMany(m => new[] { m.Groups["low"].Value, m.Groups["high"].Value }),
                limit => limit == $"{sum}"
            );
        }
    }

    [Fact]
    public void Descriptions_never_use_the_levels_own_words_and_each_level_has_four()
    {
        var sheet = Sheet(WorksheetKind.Rate, 30);
        var vignettes = Vignettes.Beside(File.Path, Library.Quillmere);
        var scales = Library
            .Quillmere.Tasks.SelectMany(t => t.Responses)
            .Select(r => r.Scale)
            .OfType<Scale>()
            .Distinct();
        foreach (var (scale, level) in scales.SelectMany(s => s.Levels.Select(l => (s, l))))
        {
            Assert.True(vignettes.Of(scale, level.Points).Distinct().Count() >= 4);
        }

        foreach (var (row, key) in sheet.Cases.SelectMany(c => c.Rows.Zip(c.Key)))
        {
            Assert.StartsWith(row[0] + ": ", key, StringComparison.Ordinal);
            var level = Quoted().Match(key).Groups[1].Value;
            var own = Word().Matches(level.ToLowerInvariant()).Select(m => m.Value).Where(w => w.Length > 5);
            Assert.Empty(own.Intersect(Word().Matches(row[1].ToLowerInvariant()).Select(m => m.Value)));
        }
    }

    [Theory]
    [InlineData("Goes full and steady.", "full")]
    [InlineData("Everything smoothly done.", "smoothly")]
    [InlineData("The chin moved.", "chin")]
    public void A_wording_with_a_word_of_its_level_is_refused_by_name(string wording, string word)
    {
        var text = System.IO.File.ReadAllText(Vignettes.PathFor(File.Path));
        var level =
            word == "chin"
                ? "It bends off to one side before it arrives."
                : "A single even sweep brings it exactly where you pointed.";
        Assert.Contains(level, text, StringComparison.Ordinal);
        var refused = Assert.Throws<FileProblemException>(() =>
            Vignettes.From(text.Replace(level, wording, StringComparison.Ordinal), Library.Quillmere)
        );
        Assert.Contains($"“{wording}” says {word}", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_level_with_three_wordings_is_refused_and_so_is_a_missing_file()
    {
        var text = System.IO.File.ReadAllText(Vignettes.PathFor(File.Path));
        var fewer = text.Replace("    - \"It cracks like a dry branch.\"\n", "", StringComparison.Ordinal);
        var refused = Assert.Throws<FileProblemException>(() => Vignettes.From(fewer, Library.Quillmere));
        Assert.Equal(
            "Vignettes: cough-power 2 has 3 different wordings; it needs at least 4.",
            refused.Message
        );
        Assert.Throws<FileProblemException>(() =>
            Vignettes.Beside("/nowhere/none.protocol", Library.Quillmere)
        );
    }

    [Fact]
    public void Ages_are_completed_months()
    {
        foreach (var one in Sheet(WorksheetKind.Age, 40).Cases)
        {
            var (born, seen) = (Day(one.Facts[0].Text), Day(one.Facts[1].Text));

            // By going up month by month: the day that completes it is the same number, or the 1st of the next month.
            var months = 0;
            while (Completes(born, months + 1) <= seen)
            {
                months++;
            }

            Assert.EndsWith($": {months / 12};{months % 12}.", one.Key[^1], StringComparison.Ordinal);
            Assert.True(Library.Quillmere.Ages.Contains(new Age(months)));
        }
    }

    [Fact]
    public void Slips_of_every_kind_occur_and_exactly_one_line_is_wrong()
    {
        var cases = Sheet(WorksheetKind.Slip, 16).Cases;
        string[] signs =
        [
            "The age:",
            "changed round",
            "“refused”",
            "unaided",
            "highest counts",
            "intervals",
            "nearest step",
            "The band:",
        ];
        Assert.All(signs, s => Assert.Contains(cases, c => c.Key[0].Contains(s, StringComparison.Ordinal)));
        foreach (var one in cases.Where(c => c.Key[0].StartsWith("The band:", StringComparison.Ordinal)))
        {
            var sum = Whole(one.Rows[^2][2]);
            var right = Cell().Matches(one.Rows[^1][1]).First(m => Lies(sum, m)).Groups["band"].Value;
            Assert.NotEqual(right, one.Rows[^1][2]);
            Assert.Contains($"it is {right}.", one.Key[0], StringComparison.Ordinal);
        }

        // Of all others the band written follows from the total written.
        foreach (var one in cases.Where(c => !c.Key[0].StartsWith("The band:", StringComparison.Ordinal)))
        {
            var sum = one.Rows[^2][1].Split(" + ").Sum(Whole);
            Assert.Equal(one.Rows[^2][2], $"{sum}");
            Assert.Equal(
                Cell().Matches(one.Rows[^1][1]).First(m => Lies(sum, m)).Groups["band"].Value,
                one.Rows[^1][2]
            );
        }
    }

    [Fact]
    public void Two_raters_agree_as_often_as_the_key_says()
    {
        foreach (var one in Sheet(WorksheetKind.Raters, 20).Cases)
        {
            var same = one.Rows.Count(r => r[1] == r[2]);
            var percent = (int)Math.Floor((100.0 * same / one.Rows.Count) + 0.5);
            Assert.StartsWith(
                $"{same} of {one.Rows.Count} tasks have the same rating: {percent} percent",
                one.Key[0],
                StringComparison.Ordinal
            );
            var (a, b) = (one.Rows.Sum(r => Whole(r[1])), one.Rows.Sum(r => Whole(r[2])));
            Assert.Contains($"A: {a}. B: {b}. They differ by {Math.Abs(a - b)}.", one.Key);
        }
    }

    private static List<string> Pages(PracticeSheet sheet) =>
        [.. WorksheetPages.Render(sheet, new OutputOptions(), TemplateSource.BuiltIn).Select(a => a.Text)];

    private static int Whole(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static bool Lies(int value, Match cell)
    {
        var low = Whole(cell.Groups["low"].Value);
        return low <= value
            && value <= (cell.Groups["high"].Success ? Whole(cell.Groups["high"].Value) : low);
    }

    private static DateOnly Day(string text) =>
        DateOnly.ParseExact(text, "d MMMM yyyy", CultureInfo.InvariantCulture);

    private static DateOnly Completes(DateOnly born, int months)
    {
        var first = new DateOnly(born.Year, born.Month, 1).AddMonths(months);
        return born.Day <= DateTime.DaysInMonth(first.Year, first.Month)
            ? new DateOnly(first.Year, first.Month, born.Day)
            : first.AddMonths(1);
    }

    [GeneratedRegex(@"(?<band>[A-Z][a-z]+ [a-z]+) (?<low>\d+)(?: to (?<high>\d+))?")]
    private static partial Regex Cell();

    [GeneratedRegex("“(.*)”")]
    private static partial Regex Quoted();

    [GeneratedRegex("[a-z]+")]
    private static partial Regex Word();
}
