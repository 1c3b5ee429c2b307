using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>What is found as sets is what is found record by record, on a protocol with every kind of routing.</summary>
public sealed class SetPassTests
{
    private static readonly Protocol Large = Proving.Compiled(ProvedProtocol.Write(40));

    [Theory]
    [InlineData(48, true)]
    [InlineData(100, false)]
    [InlineData(100, true)]
    public void Sets_hold_what_records_hold(int months, bool untried)
    {
        var questions = new Questions(Large, Reach.Limit);
        var part = new Part(new AgeRange(new Age(months), new Age(months)), 0, untried);
        var program = Large.Program;
        foreach (var outcome in program.Outcomes.Take(2))
        {
            Same(questions, part, [outcome.StateLine, outcome.LowLine, outcome.HighLine]);
        }

        foreach (var band in program.Bands.Take(2))
        {
            Same(questions, part, [band.Line]);
        }
    }

    private static void Same(Questions questions, Part part, int[] lines)
    {
        var sets = ReachRows.OfSets(questions, part, lines);
        var records = ReachRows.OfRecords(questions, part, lines);
        Assert.NotEmpty(records);
        Assert.Equal(records, sets);
    }

    [Fact]
    public void What_decides_whether_a_task_is_given_is_joined_before_it()
    {
        var questions = new Questions(Large, Reach.Limit);
        var older = new Part(new AgeRange(new Age(100), new Age(100)), 0, false);
        Assert.Equal([4, 5, 3, 2, 1, 0, 6], Joined(questions, older).Take(7));
        var younger = new Part(new AgeRange(new Age(48), new Age(48)), 0, false);
        Assert.Equal([0, 1, 2, 3, 4, 5, 6], Joined(questions, younger).Take(7));
    }

    /// <summary>The tasks of the section with a start point, by number within it, in the order of work.</summary>
    private static IEnumerable<int> Joined(Questions questions, Part part)
    {
        var space = questions.Space(part);
        return Enumerable
            .Range(0, space.PartCount)
            .Where(p => space.Leaves[p].Owner.Task?.StartsWith("move-1-", StringComparison.Ordinal) == true)
            .OrderBy(p => space.Order[p])
            .Select(p => space.Leaves[p].Owner.Task)
            .Distinct()
            .Select(t => int.Parse(t["move-1-".Length..], System.Globalization.CultureInfo.InvariantCulture));
    }
}
