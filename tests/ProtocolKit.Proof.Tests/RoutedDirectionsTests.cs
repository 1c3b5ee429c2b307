using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests;

/// <summary>
/// Where answers get better a value goes no other way than is read off its formula, routing included: held against drawn pairs of sheets,
/// each scored.
/// </summary>
public sealed class RoutedDirectionsTests
{
    private const int Pairs = 80;
    private static readonly Protocol Large = Proving.Compiled(ProvedProtocol.Write(40));

    [Theory]
    [InlineData(48, true, 2UL)]
    [InlineData(100, false, 3UL)]
    public void Values_go_the_way_that_was_found(int months, bool untried, ulong seed)
    {
        var questions = new Questions(Large, Reach.Limit);
        var part = new Part(new AgeRange(new Age(months), new Age(months)), 0, untried);
        var ways = new BetterWays(new Analysis.Pairs(questions, PairKind.Better));
        var program = Large.Program;
        var lines = program
            .Outcomes.SelectMany(o => new[] { o.LowLine, o.HighLine })
            .Concat(program.Kept.SelectMany(k => new[] { k.LowLine, k.HighLine }))
            .Distinct()
            .Select(l => (Line: l, Way: ways.Of(part, l)))
            .Where(l => l.Way != Way.Either)
            .ToList();
        Assert.NotEmpty(lines);

        var (generator, moved) = (new Xoshiro256(seed), 0);
        for (var pair = 0; pair < Pairs; pair++)
        {
            var (first, second) = Draw(questions.Space(part), generator, months);
            foreach (var (line, way) in lines)
            {
                var (a, b) = (first[line], second[line]);
                moved += a == b ? 0 : 1;
                var found =
                    a == b ? Way.Same
                    : a < b ? Way.MayRise
                    : Way.MayFall;
                Assert.True(way.HasFlag(found), $"{program.Lines[line].Name}: {a} to {b}, found to be {way}");
            }
        }

        Assert.InRange(moved, 1, int.MaxValue);
    }

    /// <summary>All answers of a sheet and better ones, the same untried; what routing does not give is then blanked on each.</summary>
    private static (long[] First, long[] Second) Draw(RecordSpace space, Xoshiro256 generator, int months)
    {
        var (first, second) = ((long[])space.Baseline.Clone(), (long[])space.Baseline.Clone());
        var often = (long)generator.Below(3);
        foreach (var leaf in space.Leaves.Skip(1))
        {
            var untried = space.HasUntried && generator.Below(20) == 0;
            if (untried && leaf.StateField >= 0)
            {
                first[leaf.StateField] = second[leaf.StateField] = (long)State.Refused;
                first[leaf.ValueField] = second[leaf.ValueField] = leaf.Low;
                continue;
            }

            if (untried)
            {
                first[leaf.ValueField] = second[leaf.ValueField] = 0;
                continue;
            }

            var (worst, best) =
                leaf.Order > 0 ? (leaf.Low, leaf.High) : (leaf.High, leaf.IsObservation ? 1 : leaf.Low);
            var value = generator.Below(3) < (ulong)often ? worst : best;
            first[leaf.ValueField] = value;
            second[leaf.ValueField] = generator.Below(6) == 0 ? best : value;
        }

        return (Scored(space, first, months), Scored(space, second, months));
    }

    private static long[] Scored(RecordSpace space, long[] fields, int months)
    {
        fields[space.Protocol.Program.AgeField] = months;
        space.Settle(fields, f => f != space.Protocol.Program.AgeField);
        return Evaluator.Run(space.Protocol.Program, fields);
    }
}
