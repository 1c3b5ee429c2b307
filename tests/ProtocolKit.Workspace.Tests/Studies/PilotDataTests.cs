using ProtocolKit.PilotGenerator;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Tests.Studies;

/// <summary>The invented pilot: what it holds, and that its generator writes it again.</summary>
public class PilotDataTests
{
    [Fact]
    public void The_generator_writes_the_pilot_again_to_the_byte()
    {
        var rows = new Pilot(Library.Truth, Library.Quillmere).Rows().ToList();
        Assert.True(
            File.ReadAllText(Library.PilotPath) == Pilot.Table(Library.Quillmere, rows),
            "The example or the truth has changed. Run: dotnet run --project tests/ProtocolKit.PilotGenerator -- library/quillmere"
        );
    }

    [Fact]
    public void It_is_marked_invented_in_every_row_and_in_its_truth()
    {
        Assert.All(
            File.ReadLines(Library.PilotPath).Skip(1),
            row => Assert.Contains(",invented-", row, StringComparison.Ordinal)
        );
        Assert.StartsWith("Invented.", Library.Truth.About, StringComparison.Ordinal);
    }

    [Fact]
    public void It_holds_180_children_40_rated_by_two_and_40_seen_again_after_10_to_14_weeks()
    {
        var data = StudyReader.Read(Library.Quillmere, Library.PilotPath);
        Assert.Empty(data.LeftOut);
        var first = data.Sittings.Where(s => s.Number == 1).ToList();
        Assert.Equal(180, first.Select(s => s.Case).Distinct().Count());
        Assert.Equal(
            40,
            first.GroupBy(s => s.Case).Count(g => g.Select(s => s.Rater).Distinct().Count() == 2)
        );
        var again = data.Sittings.Where(s => s.Number == 2).ToList();
        Assert.Equal(40, again.Select(s => s.Case).Distinct().Count());
        Assert.All(
            again,
            s => Assert.InRange(s.Seen.DayNumber - first.First(f => f.Case == s.Case).Seen.DayNumber, 70, 98)
        );
        Assert.All(first, s => Assert.True(s.Reference is { IsCase: not null, IsBlind: true }));
    }

    /// <summary>What the example's cut-offs say of the pilot is what the pilot holds.</summary>
    [Fact]
    public void The_example_s_cut_offs_name_the_pilot_as_it_is_and_stay_provisional()
    {
        var judged = StudyReader
            .Read(Library.Quillmere, Library.PilotPath)
            .Sittings.Where(s => s.Number == 1)
            .GroupBy(s => s.Case)
            .Select(g => g.First())
            .ToList();
        var words =
            $"the invented pilot: {judged.Count} children, {judged.Count(s => s.Reference.IsCase == true)} in need, January to April 2026";
        Assert.Equal((1, 4), (judged.Min(s => s.Seen).Month, judged.Max(s => s.Seen).Month));
        var full = Library.Quillmere.CutOffs.Where(t => !t.ShortForm).ToList();
        Assert.All(full, t => Assert.Contains(words, t.Basis.Text, StringComparison.Ordinal));
        Assert.All(Library.Quillmere.CutOffs, t => Assert.True(t.Basis.IsProvisional));
    }

    /// <summary>The example's re-tests are those the change study writes from the pilot.</summary>
    [Fact]
    public void The_example_s_re_tests_are_the_change_study_s()
    {
        var blocks = Calibration
            .Studies.ChangeStudy.Run(
                StudyReader.Read(Library.Quillmere, Library.PilotPath),
                new Model.StudyOptions()
            )
            .Blocks;
        var text = File.ReadAllText(Library.PathOf("quillmere-screen.protocol"));
        Assert.All(
            Library.Quillmere.ReTests,
            r =>
            {
                var block = blocks
                    .Single(b => b.Text.StartsWith($"re-test {r.Outcome.Name}\n", StringComparison.Ordinal))
                    .Text;
                Assert.Contains(
                    block.Replace(
                        "change study, same rater",
                        "change study of the invented pilot, same rater",
                        StringComparison.Ordinal
                    ),
                    text,
                    StringComparison.Ordinal
                );
            }
        );
    }

    [Fact]
    public void Every_untried_code_stands_in_it_somewhere()
    {
        var text = File.ReadAllText(Library.PilotPath);
        Assert.All(
            Model.States.Untried,
            code => Assert.Contains("," + code.Code + ",", text, StringComparison.Ordinal)
        );
    }
}
