using System.Globalization;
using ProtocolKit.Calibration.Studies;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Studies;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Tests.Studies;

/// <summary>Agreement beyond two raters and beyond kappa: three raters, own weights, observations, agreed records.</summary>
public class AgreementTests
{
    private static readonly Lazy<StudyData> Pilot = new(() =>
        StudyReader.Read(Library.Quillmere, Library.PilotPath)
    );

    private static readonly StudyOptions Quick = new() { Resamples = 100 };

    /// <summary>The pilot's two raters and a third: a copy of the first on all but the last ten shared sittings.</summary>
    private static StudyData ThreeRaters()
    {
        var shared = Shared();
        var third = shared
            .Where(s => s.Rater == "SLP-01")
            .SkipLast(10)
            .Select(s => s with { Rater = "SLP-03" });
        return Pilot.Value with { Sittings = [.. shared, .. third] };
    }

    private static List<StudySitting> Shared() =>
        [.. Pilot.Value.Sittings.GroupBy(s => (s.Case, s.Seen)).Where(g => g.Count() > 1).SelectMany(g => g)];

    [Fact]
    public void Three_raters_get_a_page_for_each_pair_and_one_for_all()
    {
        var report = AgreementStudy.Run(ThreeRaters(), Quick);
        var titles = report.Sections.Select(s => s.Title).ToList();
        Assert.Contains("Measures and scores (SLP-01 and SLP-03)", titles);
        Assert.Contains("All raters together", titles);
        var page = StudyPage.Render(report, OutputOptions.Default, TemplateSource.BuiltIn)[0].Text;
        Assert.Contains("Ratings by any number of raters", page, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", page, StringComparison.Ordinal);
        Assert.All(
            report.Tables.Single(t => t.Name == "totals-slp-01-slp-03").Rows,
            r => Assert.Equal("0", r[5].Text.Trim('-', '.', '0') + "0")
        );
    }

    /// <summary>Fleiss' kappa counted pair by pair in the test, from the records themselves.</summary>
    [Fact]
    public void Fleiss_kappa_of_three_raters_is_that_of_all_pairs()
    {
        var kept = Library.Quillmere.Program.Kept.First(k => k.Response.Kind == ResponseKind.Rating);
        var rows = ThreeRaters()
            .Sittings.GroupBy(s => (s.Case, s.Seen))
            .Select(g => g.Where(s => IsKnown(s, kept)).Select(s => s.Scored.Lines[kept.LowLine]).ToList())
            .Where(r => r.Count == 3)
            .ToList();
        var observed = rows.Average(r => Pairs(r).Average(p => p.A == p.B ? 1.0 : 0));
        var all = rows.SelectMany(r => r).ToList();
        var expected = all.GroupBy(v => v).Sum(g => Math.Pow(g.Count() / (double)all.Count, 2));
        var row = AgreementStudy.Run(ThreeRaters(), Quick).Tables.Single(t => t.Name == "all-raters").Rows[0];
        Assert.Equal(rows.Count.ToString(CultureInfo.InvariantCulture), row[2].Text);
        Assert.Equal((observed - expected) / (1 - expected), row[3].Value!.Value, 9);

        static IEnumerable<(long A, long B)> Pairs(List<long> r) =>
            [(r[0], r[1]), (r[0], r[2]), (r[1], r[2])];
    }

    [Fact]
    public void Own_weights_of_the_usual_kind_give_the_usual_kappa()
    {
        var quadratic = Quick with
        {
            KappaWeights =
            [
                [1, 0.75, 0],
                [0.75, 1, 0.75],
                [0, 0.75, 1],
            ],
        };
        var table = AgreementStudy.Run(Pilot.Value, quadratic).Tables.Single(t => t.Name == "items-levels");
        var (usual, own) = (Column(table, "kappa-quadratic"), Column(table, "kappa-own"));
        var three = table.Rows.Where(r => r[own].Value is not null).ToList();
        Assert.True(three.Count > 20);
        Assert.All(three, r => Assert.Equal(r[usual].Value!.Value, r[own].Value!.Value, 9));
    }

    [Fact]
    public void Weights_for_levels_no_rating_has_are_refused_with_the_numbers()
    {
        var refused = Assert.Throws<StudyRefusedException>(() =>
            AgreementStudy.Run(
                Pilot.Value,
                Quick with
                {
                    KappaWeights =
                    [
                        [1, 0],
                        [0, 1],
                    ],
                }
            )
        );
        Assert.Contains("for 2 levels", refused.Message, StringComparison.Ordinal);
    }

    /// <summary>Counted here from the records: where both looked, how often both, one or neither saw it.</summary>
    [Fact]
    public void Observations_are_compared_where_both_looked()
    {
        var table = AgreementStudy.Run(Pilot.Value, Quick).Tables.Single(t => t.Name == "observations");
        var slots = Library.Quillmere.Program.Observations;
        var counted = Shared()
            .GroupBy(s => (s.Case, s.Seen))
            .Select(g =>
                g.OrderBy(s => s.Rater, StringComparer.Ordinal).Select(s => s.Scored.Record.Fields).ToList()
            )
            .SelectMany(g =>
                slots.Select(o => (o.Observation.Text, First: g[0][o.Field], Second: g[1][o.Field]))
            )
            .Where(n => n.First > 0 && n.Second > 0)
            .ToList();
        Assert.NotEmpty(counted);
        Assert.All(
            table.Rows,
            r =>
            {
                var own = counted.Where(n => n.Text == r[0].Text).ToList();
                int[] expected =
                [
                    own.Count(n => n is { First: 2, Second: 2 }),
                    own.Count(n => n is { First: 2, Second: 1 }),
                    own.Count(n => n is { First: 1, Second: 2 }),
                    own.Count(n => n is { First: 1, Second: 1 }),
                ];
                Assert.Equal(
                    expected.Select(e => e.ToString(CultureInfo.InvariantCulture)),
                    r.Skip(1).Take(4).Select(c => c.Text)
                );
            }
        );
    }

    [Fact]
    public void A_record_that_raters_agreed_on_is_no_evidence_of_what_each_writes_alone()
    {
        var folder = Directory.CreateTempSubdirectory("protocolkit-agreed-");
        try
        {
            var text = File.ReadAllText(Library.PathOf("records/qc-0417.yaml"));
            var rater = text.Split('\n').Single(l => l.StartsWith("rater: ", StringComparison.Ordinal));
            File.WriteAllText(Path.Combine(folder.FullName, "alone.yaml"), text);
            File.WriteAllText(
                Path.Combine(folder.FullName, "agreed.yaml"),
                text.Replace(rater + "\n", "", StringComparison.Ordinal)
                    + "\nagreed-from:\n  - rater: SLP-01\n    digest: 0123456789abcdef\n  - rater: SLP-02\n    digest: 0123456789abcdee\n"
            );
            var data = StudyReader.Read(Library.Quillmere, folder.FullName);
            Assert.Equal(rater[7..], Assert.Single(data.Sittings).Rater);
            Assert.Contains(
                data.Remarks,
                r => r.Contains("1 record that raters agreed on", StringComparison.Ordinal)
            );
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static int Column(EvidenceTable table, string name) =>
        table.Columns.ToList().FindIndex(c => c.Name == name);

    private static bool IsKnown(StudySitting sitting, KeptLines kept) =>
        (State)sitting.Scored.Lines[kept.StateLine] == State.Known
        && sitting.Scored.Lines[kept.LowLine] == sitting.Scored.Lines[kept.HighLine];
}
