using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Proof.Tests.Sampling;

/// <summary>
/// The named generator gives what its authors' programs give. The figures are those of the tests of rand_xoshiro
/// (rust-random/rngs), which were made with the reference programs xoshiro256starstar.c and splitmix64.c of Blackman and Vigna.
/// </summary>
public sealed class GeneratorTests
{
    private static readonly ulong[] FromOneToFour =
    [
        11520,
        0,
        1509978240,
        1215971899390074240,
        1216172134540287360,
        607988272756665600,
        16172922978634559625,
        8476171486693032832,
        10595114339597558777,
        2904607092377533576,
    ];

    private static readonly ulong[] Seeds =
    [
        1985237415132408290,
        2979275885539914483,
        13511426838097143398,
        8488337342461049707,
        15141737807933549159,
    ];

    [Fact]
    public void It_gives_the_published_outputs()
    {
        var generator = new Xoshiro256(1, 2, 3, 4);
        Assert.Equal(FromOneToFour, FromOneToFour.Select(_ => generator.Next()));
    }

    [Fact]
    public void Its_seeds_are_spread_by_the_published_generator()
    {
        var state = 1477776061723855037UL;
        Assert.Equal(Seeds, Seeds.Select(_ => Xoshiro256.SplitMix64(ref state)));

        // And the four words it makes of a seed are its state.
        var words = 7UL;
        var generator = new Xoshiro256(
            Xoshiro256.SplitMix64(ref words),
            Xoshiro256.SplitMix64(ref words),
            Xoshiro256.SplitMix64(ref words),
            Xoshiro256.SplitMix64(ref words)
        );
        Assert.Equal(generator.Next(), new Xoshiro256(7).Next());
    }

    [Fact]
    public void Numbers_below_a_bound_are_equally_likely_however_large_the_bound()
    {
        var generator = new Xoshiro256(11);

        // Three quarters of 2^70: a remainder instead of drawing anew would favour the lower third.
        var bound = (BigInteger.One << 69) + (BigInteger.One << 68);
        var thirds = new int[3];
        for (var i = 0; i < 30_000; i++)
        {
            thirds[(int)(generator.Below(bound) / (BigInteger.One << 68))]++;
        }

        ChiSquare.Fits(thirds);
        var sixths = new int[6];
        for (var i = 0; i < 60_000; i++)
        {
            sixths[generator.Below(6UL)]++;
        }

        ChiSquare.Fits(sixths);
    }

    [Fact]
    public void A_state_of_zeros_and_a_bound_of_zero_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new Xoshiro256(0, 0, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Xoshiro256(1).Below(BigInteger.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Xoshiro256(1).Below(0UL));
        Assert.Equal(0UL, new Xoshiro256(1).Below(1UL));
    }
}
