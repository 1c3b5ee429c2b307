using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>Sets of running sums as bits, held against sets of tuples that are moved one by one.</summary>
public sealed class SetStateTests
{
    private static readonly int[] NoColumns = [];

    [Theory]
    [InlineData(1UL, 9, 33)]
    [InlineData(2UL, 41, 41)]
    [InlineData(3UL, 64, 1)]
    [InlineData(4UL, 5, 700)]
    [InlineData(5UL, 63, 65)]
    public void Moving_a_set_moves_each_of_its_members(ulong seed, int firstWidth, int secondWidth)
    {
        var generator = new Xoshiro256(seed);
        var (state, members) = (State(firstWidth, secondWidth), new HashSet<(long, long)>());
        for (var i = 0; i < 20; i++)
        {
            var member = (Below(generator, firstWidth / 2), Below(generator, (secondWidth + 1) / 2));
            members.Add(member);
            state.Set([], NoColumns, member.Item1 + (firstWidth * member.Item2));
        }

        for (var step = 0; step < 6; step++)
        {
            var (moved, after) = (State(firstWidth, secondWidth), new HashSet<(long, long)>());
            for (var way = 0; way < 3; way++)
            {
                // As far as the farthest member leaves room.
                var first = Below(generator, firstWidth - members.Max(m => m.Item1));
                var second = Below(generator, secondWidth - members.Max(m => m.Item2));
                moved.Add([], NoColumns, state, 0, first + (firstWidth * second));
                after.UnionWith(members.Select(m => (m.Item1 + first, m.Item2 + second)));
            }

            (state, members) = (moved, after);
            Assert.Equal(members.Select(m => m.Item1 + (firstWidth * m.Item2)).Order(), state.Places(0));
        }
    }

    [Fact]
    public void A_set_with_too_many_places_is_refused() =>
        Assert.Throws<ProofLimitException>(() => State(1 << 20, 1 << 10));

    private static long Below(Xoshiro256 generator, long limit) =>
        (long)generator.Below((ulong)Math.Max(1, limit));

    private static SetState State(int firstWidth, int secondWidth)
    {
        var graph = new Graph();
        var (a, b) = (
            graph.Field(1, 0, firstWidth - 1, []),
            graph.Field(2, 0, Math.Max(1, secondWidth - 1), [])
        );
        return new SetState(
            [],
            [new Register(a, 1, firstWidth, 1), new Register(b, firstWidth, secondWidth, 1)]
        );
    }
}
