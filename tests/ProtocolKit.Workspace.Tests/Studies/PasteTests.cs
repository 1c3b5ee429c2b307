using ProtocolKit.Model;
using ProtocolKit.Proof;
using ProtocolKit.Workspace;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Tests.Studies;

/// <summary>What is offered to paste compiles in its place and loses nothing that was proved: bands, actions, claims.</summary>
public class PasteTests
{
    private static readonly ProtocolFile File = ProtocolFile
        .Open(Library.PathOf("quillmere-screen.protocol"))
        .Prove();

    [Fact]
    public void A_block_that_would_not_compile_is_never_offered()
    {
        var gap = new PasteBlock(
            "t",
            "cut-offs jaw-total\n  ages          look-further  look-again  as-expected\n  4;0 to 4;11   0 to 5        5 to 7      8 to 12\n  basis provisional \"x\"\n",
            ""
        );
        Assert.NotNull(PasteCheck.FirstError(File, gap));
    }

    [Fact]
    public void A_block_with_a_band_that_no_record_reaches_is_not_offered_and_the_reason_is_said()
    {
        // Six tasks of at most 2 points: nobody reaches 13.
        var high = new PasteBlock(
            "Jaw",
            "cut-offs jaw-total\n  ages          look-further  look-again  as-expected\n  4;0 to 11;11  0 to 5        6 to 12     13 to 14\n  basis provisional \"x\"\n",
            ""
        );
        Assert.Null(PasteCheck.FirstError(File, high));
        var (offered, refused) = PasteCheck.Offered(File, [high]);
        Assert.Empty(offered);
        Assert.Contains("a fault it has not now", Assert.Single(refused), StringComparison.Ordinal);
    }

    /// <summary>The example claims that a child who fails every tongue task is always assessed in full.</summary>
    [Fact]
    public void A_block_that_breaks_a_claim_is_not_offered_and_the_claim_is_named()
    {
        var mild = new PasteBlock(
            "Tongue",
            "cut-offs tongue-total\n  ages          look-further  look-again  as-expected\n  4;0 to 11;11  none          0 to 13     14 to 20\n  basis provisional \"x\"\n",
            ""
        );
        Assert.Null(PasteCheck.FirstError(File, mild));
        var (offered, refused) = PasteCheck.Offered(File, [mild]);
        Assert.Empty(offered);
        Assert.Contains("tongue task", Assert.Single(refused), StringComparison.Ordinal);
    }

    /// <summary>Silence is no proof: with room for one case only, nothing of the table can be worked out, and that is said.</summary>
    [Fact]
    public void A_table_too_large_to_prove_is_offered_with_a_remark()
    {
        var block = new PasteBlock(
            "Jaw",
            "cut-offs jaw-total\n  ages          look-further  look-again  as-expected\n  4;0 to 11;11  0 to 5        6 to 8      9 to 12\n  basis provisional \"x\"\n",
            ""
        );
        Assert.Equal(PasteVerdict.Nothing, new PasteProof(File).BandsOf(block));
        var verdict = new PasteProof(File, new ProofOptions(Limit: 1)).BandsOf(block);
        Assert.Null(verdict.Loss);
        Assert.StartsWith("Not proved over all records: ", verdict.NotProved, StringComparison.Ordinal);
    }

    [Fact]
    public void A_re_test_bears_no_bands_and_needs_no_proof() =>
        Assert.Equal(
            PasteVerdict.Nothing,
            new PasteProof(File, new ProofOptions(Limit: 1)).Of([
                new PasteBlock("r", "re-test jaw-total\n  error 0.9 \"x\", n 32, after 10 to 14 weeks\n", ""),
            ])
        );
}
