using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof;

/// <param name="Limit">Distinct cases kept apart at most; a question beyond it is not proved.</param>
/// <param name="Sets">Whether the sets of values are wanted besides the findings.</param>
/// <param name="Counts">Whether records are counted.</param>
/// <param name="BandsOf">Only gaps and bands nobody reaches in this outcome's cut-offs, for a table that is tried; null: everything.</param>
public sealed record ProofOptions(
    long Limit = Reach.Limit,
    bool Sets = true,
    bool Counts = true,
    string? BandsOf = null
)
{
    /// <summary>Who is asked what is too large to work out exactly; null: nobody, and it is not proved.</summary>
    public IBeyondLimit? Beyond { get; init; }
}

/// <summary>What holds for every record a child could ever produce.</summary>
public static class Prover
{
    /// <summary>
    /// Proves or refutes everything the checker promises, for each form, complete and with untried answers. Exact: what is too large
    /// is listed as not proved. Every example was scored before it is given.
    /// </summary>
    public static ProofReport Prove(Protocol protocol, ProofOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        options ??= new ProofOptions();
        var results = new ProofResults(new Questions(protocol, options.Limit), options.Beyond);
        BandProofs.Run(results, options.BandsOf);
        if (options.BandsOf is null)
        {
            ActionProofs.Run(results);
            ClaimProofs.Run(results);
            RangeProofs.Run(results);
            MonotonyProofs.Run(results);
            RefusalProofs.Run(results);
        }

        return new ProofReport
        {
            Findings = results.Findings,
            Proved = results.Proved,
            NotProved = results.NotProved,
            Waived = results.Waived,
            Sets = options.Sets ? OutcomeSets.Of(results) : [],
            Records = options.Counts ? RecordCounts.Of(results) : null,
        };
    }
}
