using System.Text.RegularExpressions;
using ProtocolKit.Calibration.Studies;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Tests.Studies;

/// <summary>Every study on the invented pilot, from its rows to pages and text to paste.</summary>
public partial class StudyTests
{
    private static readonly ProtocolFile File = ProtocolFile.Open(
        Library.PathOf("quillmere-screen.protocol")
    );
    private static readonly Lazy<StudyData> Pilot = new(() =>
        StudyReader.Read(Library.Quillmere, Library.PilotPath)
    );
    private static readonly StudyOptions Quick = new() { Resamples = 200 };

    public static TheoryData<string> Kinds => [.. StudyRunner.Kinds];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void No_report_holds_a_number_that_is_none(string kind)
    {
        foreach (var text in Texts(Run(kind, Pilot.Value, Quick)))
        {
            Assert.DoesNotMatch(NoNumber(), text);
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Few_records_drawn_by_lot_give_a_report_without_such_a_number_or_a_sentence(string kind)
    {
        var all = Pilot.Value.Sittings;
        for (var seed = 1UL; seed <= 12; seed++)
        {
            var chance = PilotGenerator.Dice.For(seed, kind);
            var some = all.Where(_ => chance.Chance(0.01 * seed * seed)).ToList();
            if (some.Count == 0)
            {
                continue;
            }

            try
            {
                var report = Run(kind, Pilot.Value with { Sittings = some }, Quick with { Resamples = 20 });
                Assert.All(Texts(report), text => Assert.DoesNotMatch(NoNumber(), text));
            }
            catch (StudyRefusedException why)
            {
                Assert.EndsWith(".", why.Message, StringComparison.Ordinal);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_same_seed_gives_the_same_bytes_on_one_thread_and_on_two(string kind)
    {
        var one = Texts(Run(kind, Pilot.Value, Quick with { Threads = 1 }));
        var two = Texts(Run(kind, Pilot.Value, Quick with { Threads = 2 }));
        Assert.Equal(one, two);
    }

    [Theory]
    [InlineData("cut-offs")]
    [InlineData("change")]
    public void Text_to_paste_compiles_all_together_and_keeps_its_figures(string kind)
    {
        var report = Run(kind, Pilot.Value, Quick);
        Assert.NotEmpty(report.Blocks);
        var pasted = PasteCheck.Compile(File, report.Blocks).Protocol;
        Assert.NotNull(pasted);
        if (kind == "cut-offs")
        {
            var jaw = pasted.CutOffs.Single(t => !t.ShortForm && t.Outcome.Name == "jaw-total");
            Assert.Equal(BasisKind.Pilot, jaw.Basis.Kind);
            Assert.False(jaw.Basis.IsProvisional);
        }
        else
        {
            Assert.All(
                pasted.ReTests,
                r => Assert.StartsWith("change study", r.Basis, StringComparison.Ordinal)
            );
        }
    }

    [Fact]
    public void Judges_give_Angoff_s_cut_as_the_mean_of_their_sums()
    {
        // By hand from judges.csv: 6.8, 7.5, 6.2, 7.9 and 7.1 points, 35.5 in all.
        var data = JudgesReader.Add(Pilot.Value, Library.PathOf("pilot/judges.csv"));
        var table = Run("cut-offs", data, Quick with { Scores = ["jaw-total"] })
            .Tables.Single(t => t.Name == "judges-jaw-total");
        Assert.Equal(7.1, table.Rows[0][1].Value!.Value, 9);
        Assert.Contains("5 judges, 6 items", table.Rows[0][3].Text, StringComparison.Ordinal);
        Assert.InRange(table.Rows[2][1].Value!.Value, 5, 8);
    }

    [Fact]
    public void Older_children_are_never_asked_less_without_a_word()
    {
        var report = Run("cut-offs", Pilot.Value, Quick);
        foreach (var block in report.Blocks)
        {
            var pasted = PasteCheck.Compile(File, [block]).Protocol!;
            var name = block.Text.Split('\n')[0]["cut-offs ".Length..];
            var table = pasted.CutOffs.Single(t => !t.ShortForm && t.Outcome.Name == name);
            var best = table.Rows.Select(r => r.Cells[^1]!.From).ToList();
            Assert.Equal(table.Basis.IsProvisional, block.Provisional.Length > 0);
            Assert.True(block.Provisional.Length > 0 || best.SequenceEqual(best.Order()));
        }
    }

    /// <summary>Against the table's own column, sorted by hand; quartiles after Hyndman and Fan, definition 7.</summary>
    [Fact]
    public void An_item_study_tells_how_long_each_task_took_and_how_often_nobody_counted()
    {
        var table = Run("items", Pilot.Value, Quick).Tables.Single(t => t.Name == "task-seconds");
        Assert.Equal(
            Library.Quillmere.Tasks.OrderBy(t => t.Number).Select(t => t.Title),
            table.Rows.Select(r => r[0].Text)
        );
        var lines = System.IO.File.ReadLines(Library.PilotPath).Select(l => l.Split(',')).ToList();
        var (column, at) = (Array.IndexOf(lines[0], "task-seconds.kiss"), Array.IndexOf(lines[0], "case"));
        var cells = lines.Skip(1).DistinctBy(l => l[at]).Select(l => l[column]).ToList();
        var seconds = cells.Where(c => c.Length > 0).Select(int.Parse).Order().ToList();
        var row = table.Rows.Single(r =>
            r[0].Text == Library.Quillmere.Tasks.Single(t => t.Name == "kiss").Title
        );
        Assert.Equal((double)seconds.Count, row[1].Value);
        Assert.Equal((double)(cells.Count - seconds.Count), row[2].Value);
        Assert.Equal(Place(seconds, 1), row[3].Value!.Value, 9);
        Assert.Equal(Place(seconds, 2), row[4].Value!.Value, 9);
        Assert.Equal(Place(seconds, 3), row[5].Value!.Value, 9);
        Assert.Equal((double)seconds[^1], row[6].Value);

        static double Place(List<int> sorted, int quarter)
        {
            var (whole, rest) = Math.DivRem(quarter * (sorted.Count - 1), 4);
            return sorted[whole]
                + (rest / 4.0 * (sorted[Math.Min(whole + 1, sorted.Count - 1)] - sorted[whole]));
        }
    }

    [Fact]
    public void The_readiness_rule_is_counted_for_each_rater()
    {
        var table = Run("agreement", Pilot.Value, Quick).Tables.Single(t => t.Name == "readiness");
        Assert.Equal(2 * Library.Quillmere.Readiness!.Checks.Count, table.Rows.Count);
        Assert.All(table.Rows, r => Assert.Equal("40", r[2].Text));
        Assert.All(table.Rows, r => Assert.Equal(r[5].Value >= r[7].Value ? "yes" : "no", r[8].Text));
    }

    /// <summary>Sensitivity is the share of cases that are not missed, specificity that of others who are no false alarm.</summary>
    [Fact]
    public void Blocks_to_paste_count_misses_and_false_alarms()
    {
        var report = Run("cut-offs", Pilot.Value, Quick);
        Assert.NotEmpty(report.Blocks);
        foreach (var block in report.Blocks)
        {
            var outcome = block.Text.Split('\n')[0]["cut-offs ".Length..];
            var rows = report.Tables.Single(t => t.Name == $"rows-{outcome}").Rows;
            var missed = rows.Sum(r => (1 - r[5].Value!.Value) * r[2].Value!.Value);
            var alarms = rows.Sum(r => (1 - r[6].Value!.Value) * (r[1].Value!.Value - r[2].Value!.Value));
            var cases = rows.Sum(r => r[2].Value);
            var others = rows.Sum(r => r[1].Value) - cases;
            Assert.EndsWith(
                FormattableString.Invariant(
                    $", misses \"{missed:0} of {cases}\", false-alarms \"{alarms:0} of {others}\"\n"
                ),
                block.Text,
                StringComparison.Ordinal
            );
        }
    }

    [Fact]
    public void Small_rows_stay_provisional_and_say_so()
    {
        var few = Pilot.Value.Sittings.Where(s => string.CompareOrdinal(s.Case, "invented-050") < 0).ToList();
        var report = Run("cut-offs", Pilot.Value with { Sittings = few }, Quick);
        Assert.All(
            report.Blocks,
            b =>
            {
                Assert.Contains("basis provisional", b.Text, StringComparison.Ordinal);
                Assert.NotEmpty(b.Provisional);
            }
        );
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_page_carries_the_cautions_and_every_picture_its_words(string kind)
    {
        var report = Run(kind, Pilot.Value, Quick);
        var page = StudyPage.Render(report, OutputOptions.Default, TemplateSource.BuiltIn)[0].Text;
        Assert.Contains("A screen makes no diagnosis", page, StringComparison.Ordinal);
        Assert.Contains("Movements without speech say little about speech", page, StringComparison.Ordinal);
        Assert.Contains(
            "the child’s strongest",
            page.Replace("&#39;", "’", StringComparison.Ordinal),
            StringComparison.Ordinal
        );
        Assert.Contains("provisional", page, StringComparison.Ordinal);
        Assert.All(report.Sections.SelectMany(s => s.Plots), p => Assert.NotEmpty(p.InWords));
        Assert.NotEmpty(report.May);
        Assert.NotEmpty(report.MayNot);
    }

    [Theory]
    [InlineData("agreement", "all 1 records are by SLP-01")]
    [InlineData("change", "seen twice")]
    public void What_is_missing_is_said(string kind, string part)
    {
        var one = Pilot.Value with { Sittings = [Pilot.Value.Sittings[0]] };
        var refused = Assert.Throws<StudyRefusedException>(() => Run(kind, one, Quick));
        Assert.Contains(part, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void No_judgements_no_cases_and_nobody_but_cases_are_three_sentences()
    {
        Assert.Contains(
            "need a reference judgement",
            Refused(s => s with { Reference = ReferenceJudgement.None }),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "None of the 180 judged children is a case",
            Refused(s => s with { Reference = s.Reference with { IsCase = false } }),
            StringComparison.Ordinal
        );
        Assert.Contains(
            "All 180 judged children are cases",
            Refused(s => s with { Reference = s.Reference with { IsCase = true } }),
            StringComparison.Ordinal
        );

        string Refused(Func<StudySitting, StudySitting> change) =>
            Assert
                .Throws<StudyRefusedException>(() =>
                    Run(
                        "cut-offs",
                        Pilot.Value with
                        {
                            Sittings = [.. Pilot.Value.Sittings.Select(change)],
                        },
                        Quick
                    )
                )
                .Message;
    }

    [Fact]
    public void Children_who_were_not_judged_bring_a_warning_of_verification_bias()
    {
        var some = Pilot.Value.Sittings.Select(s =>
            s.Scored.Headline?.Name == "no-action" ? s with { Reference = ReferenceJudgement.None } : s
        );
        var report = Run("cut-offs", Pilot.Value with { Sittings = [.. some] }, Quick);
        Assert.Contains("verification bias", report.Sections[0].Text[0], StringComparison.Ordinal);
    }

    /// <summary>Boys and girls apart are as many children as together, and each table holds its own.</summary>
    [Fact]
    public void Norms_by_sex_split_the_children_and_lose_none()
    {
        var whole = Run("norms", Pilot.Value, Quick with { Scores = ["jaw-total"] });
        var apart = Run("norms", Pilot.Value, Quick with { Scores = ["jaw-total"], By = "sex" });
        Assert.Equal(
            Children(whole.Tables.Where(t => t.Name.StartsWith("percentiles-", StringComparison.Ordinal))),
            Children(apart.Tables.Where(t => t.Name.StartsWith("percentiles-", StringComparison.Ordinal)))
        );
        Assert.Equal(2, apart.Tables.Count(t => t.Name.StartsWith("percentiles-", StringComparison.Ordinal)));

        static double Children(IEnumerable<EvidenceTable> tables) =>
            tables
                .SelectMany(t => t.Rows)
                .Sum(r => double.Parse(r[1].Text, System.Globalization.CultureInfo.InvariantCulture));
    }

    [Fact]
    public void Norms_by_a_column_nobody_filled_are_refused()
    {
        var bare = Pilot.Value.Sittings.Select(s => s with { Groups = new Dictionary<string, string>() });
        var refused = Assert.Throws<StudyRefusedException>(() =>
            Run("norms", Pilot.Value with { Sittings = [.. bare] }, Quick with { By = "sex" })
        );
        Assert.Contains("sex", refused.Message, StringComparison.Ordinal);
    }

    /// <summary>Where both raters always write the same level, kappa is not defined, and the counts stand beside it.</summary>
    [Fact]
    public void One_category_only_gives_no_kappa_and_no_interval()
    {
        var alike = Pilot
            .Value.Sittings.GroupBy(s => (s.Case, s.Seen))
            .Where(g => g.Count() > 1)
            .SelectMany(g => g.Select(s => s with { Scored = Pilot.Value.Sittings[0].Scored }))
            .ToList();
        var report = Run("agreement", Pilot.Value with { Sittings = alike }, Quick);
        var table = report.Tables.Single(t => t.Name == "items-levels");
        Assert.All(table.Rows.Where(r => r[1].Text != "0"), r => Assert.Equal("not defined", r[4].Text));
        Assert.All(Texts(report), text => Assert.DoesNotMatch(NoNumber(), text));
    }

    /// <summary>Nothing tried at all: every kind of study either refuses in a sentence or reports without inventing a value.</summary>
    [Theory]
    [MemberData(nameof(Kinds))]
    public void Answers_none_of_which_was_tried_give_no_figures(string kind)
    {
        var untried = new Lazy<StudyData>(() => Untried.Of(Library.Quillmere, Library.PilotPath));
        try
        {
            var report = Run(kind, untried.Value, Quick with { Resamples = 20 });
            Assert.All(Texts(report), text => Assert.DoesNotMatch(NoNumber(), text));
            Assert.Empty(report.Blocks);
        }
        catch (StudyRefusedException why)
        {
            Assert.EndsWith(".", why.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void An_unknown_score_is_answered_with_those_there_are()
    {
        var refused = Assert.Throws<StudyRefusedException>(() =>
            Run("items", Pilot.Value, Quick with { Scores = ["jaw"] })
        );
        Assert.Contains("jaw-total", refused.Message, StringComparison.Ordinal);
    }

    private static StudyReport Run(string kind, StudyData data, StudyOptions options) =>
        StudyRunner.Run(File, kind, data, options, wholeProof: false).Report;

    private static List<string> Texts(StudyReport report) =>
        [.. StudyPage.Render(report, OutputOptions.Default, TemplateSource.BuiltIn).Select(a => a.Text)];

    [GeneratedRegex(@"\bNaN\b|\bInfinity\b|∞|>-?0\.0+E|System\.")]
    private static partial Regex NoNumber();
}
