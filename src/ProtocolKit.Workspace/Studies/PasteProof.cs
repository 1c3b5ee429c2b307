using ProtocolKit.Model;
using ProtocolKit.Proof;

namespace ProtocolKit.Workspace.Studies;

/// <summary>
/// Proves over every possible record that a pasted block leaves no value without a band and no band that nobody
/// reaches, where the protocol had none before. Blocks that bear no bands, such as <c>re-test</c>, are not proved.
/// </summary>
public sealed class PasteProof(ProtocolFile file)
{
    private const string Banding = "cut-offs ";

    /// <summary>The first fault the proof finds with the block and not without it; null where there is none.</summary>
    public string? FirstLoss(PasteBlock block)
    {
        ArgumentNullException.ThrowIfNull(block);
        if (!block.Text.StartsWith(Banding, StringComparison.Ordinal))
        {
            return null;
        }

        var outcome = block.Text[Banding.Length..].Split('\n', ' ')[0];
        var after = Findings(PasteCheck.Compile(file, [block]).Protocol, outcome);
        if (after.Count == 0)
        {
            return null;
        }

        var before = Findings(file.Compilation.Protocol, outcome).Select(f => f.Text).ToHashSet();
        return after.Select(f => f.Text).FirstOrDefault(t => !before.Contains(t));
    }

    /// <summary>Gaps and bands nobody reaches. A table too large to prove is no fault of the block; <c>check</c> says so.</summary>
    private static List<ProofFinding> Findings(Protocol? protocol, string outcome) =>
        protocol is null
            ? []
            :
            [
                .. Prover
                    .Prove(protocol, new ProofOptions(Sets: false, Counts: false, BandsOf: outcome))
                    .Findings.Where(f => f.Kind is ProofKind.Gap or ProofKind.UnreachableBand),
            ];
}
