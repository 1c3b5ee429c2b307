using ProtocolKit.Model;
using ProtocolKit.Proof;
using ProtocolKit.Solver;

namespace ProtocolKit.Workspace.Studies;

/// <summary>What the proof says of a protocol with a block pasted in.</summary>
/// <param name="Loss">The first fault it has with the block and not without it; null where there is none.</param>
/// <param name="NotProved">What could not be worked out, so that nobody takes silence for proof; empty where all was.</param>
public sealed record PasteVerdict(string? Loss, string NotProved)
{
    public static PasteVerdict Nothing { get; } = new(null, "");
}

/// <summary>
/// Proves over every possible record that pasted blocks leave no value without a band, no band and no action that nobody
/// reaches, no record without an action and no claim broken, where the protocol had none of these before. Blocks that bear
/// no bands, such as <c>re-test</c>, are not proved.
/// </summary>
/// <param name="options">How much is worked out; null for as much as <c>check</c> does.</param>
public sealed class PasteProof(ProtocolFile file, ProofOptions? options = null)
{
    private const string Banding = "cut-offs ";

    private readonly ProofOptions _options = (options ?? new ProofOptions { Beyond = new CpSat() }) with
    {
        Sets = false,
        Counts = false,
    };
    private ProofReport? _before = options is null ? file.Proof : null;

    public static bool BearsBands(PasteBlock block) =>
        block is not null && block.Text.StartsWith(Banding, StringComparison.Ordinal);

    /// <summary>The bands of one block alone: quick, as only its own score is looked at.</summary>
    public PasteVerdict BandsOf(PasteBlock block)
    {
        if (!BearsBands(block))
        {
            return PasteVerdict.Nothing;
        }

        var own = _options with { BandsOf = block.Text[Banding.Length..].Split('\n', ' ')[0] };
        var after = Prove(file, [block], own);
        if (after is null || (after.Findings.Count == 0 && after.NotProved.Count == 0))
        {
            return PasteVerdict.Nothing;
        }

        var before = file.Compilation.Protocol is { } protocol ? Prover.Prove(protocol, own) : null;
        return new PasteVerdict(NewFault(before, after), Open(after.NotProved));
    }

    /// <summary>Everything of the protocol with all these blocks, actions and claims included.</summary>
    public PasteVerdict Of(IReadOnlyList<PasteBlock> blocks)
    {
        ArgumentNullException.ThrowIfNull(blocks);
        if (!blocks.Any(BearsBands) || Prove(file, blocks, _options) is not { } after)
        {
            return PasteVerdict.Nothing;
        }

        _before ??= file.Compilation.Protocol is { } protocol ? Prover.Prove(protocol, _options) : null;
        return new PasteVerdict(
            NewFault(_before, after),
            Open([.. after.NotProved.Except(_before?.NotProved ?? [])])
        );
    }

    private static ProofReport? Prove(
        ProtocolFile file,
        IReadOnlyList<PasteBlock> blocks,
        ProofOptions options
    ) => PasteCheck.Compile(file, blocks).Protocol is { } pasted ? Prover.Prove(pasted, options) : null;

    private static string? NewFault(ProofReport? before, ProofReport after)
    {
        var known = Faults(before).ToHashSet(StringComparer.Ordinal);
        return Faults(after).FirstOrDefault(f => !known.Contains(f));
    }

    private static IEnumerable<string> Faults(ProofReport? report) =>
        (report?.Findings ?? []).Where(f => f.Kind != ProofKind.NotProved).Select(f => f.Text);

    private static string Open(IReadOnlyList<string> notProved) =>
        notProved.Count == 0 ? "" : "Not proved over all records: " + string.Join(" ", notProved.Take(3));
}
