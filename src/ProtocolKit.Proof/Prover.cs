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
        var (whole, beyond) = (options.BandsOf is null, options.Beyond);
        var shared = new KnownValues();
        var questions = new Questions(protocol, options.Limit, shared);
        var (results, last) = (new ProofResults(questions, beyond), new ProofResults(questions, beyond));

        // Pairs of sheets are most of all the work and have little to do with the rest: they are asked about beside it, each kind from
        // graphs of its own.
        var (better, refused) = (Apart(), Apart());
        var beside = Task.WhenAll(
            whole ? Task.Run(() => MonotonyProofs.Run(better)) : Task.CompletedTask,
            whole ? Task.Run(() => RefusalProofs.Run(refused)) : Task.CompletedTask
        );
        try
        {
            BandProofs.Run(results, options.BandsOf);
            if (whole)
            {
                ActionProofs.Run(results);
                ClaimProofs.Run(results);
                RangeProofs.Run(results);
            }

            var sets = options.Sets ? OutcomeSets.Of(last) : [];
            var records = options.Counts ? RecordCounts.Of(last) : null;
            beside.GetAwaiter().GetResult();
            return Report([results, better, refused, last], sets, records);
        }
        finally
        {
            ((IAsyncResult)beside).AsyncWaitHandle.WaitOne();
        }

        ProofResults Apart() => new(new Questions(protocol, options.Limit, shared), beyond);
    }

    /// <summary>In the order in which people read it, whoever was done first.</summary>
    private static ProofReport Report(
        IReadOnlyList<ProofResults> results,
        IReadOnlyList<ReachableSet> sets,
        RecordCount? records
    ) =>
        new()
        {
            Findings = [.. results.SelectMany(r => r.Findings)],
            Proved = [.. results.SelectMany(r => r.Proved)],
            NotProved = [.. results.SelectMany(r => r.NotProved)],
            Waived = [.. results.SelectMany(r => r.Waived)],
            Sets = sets,
            Records = records,
        };
}
