using ProtocolKit.Model;

namespace ProtocolKit.Proof.Analysis;

/// <summary>A claim fails only where its premise surely holds and its conclusion surely does not (R21).</summary>
internal static class ClaimProofs
{
    public static void Run(ProofResults results)
    {
        foreach (var claim in results.Program.Claims)
        {
            results.Try($"The claim “{claim.Claim.Text}”", claim.Claim.Origin, () => Run(results, claim));
        }
    }

    private static void Run(ProofResults results, ClaimLines claim)
    {
        int[] lines = [claim.PremiseLine, claim.ConclusionFailsLine];
        var complete = Check(results, claim, lines, untried: false, out var everComplete);
        if (complete is not null)
        {
            results.Findings.Add(complete);
            return;
        }

        try
        {
            if (Check(results, claim, lines, untried: true, out var ever) is { } open)
            {
                results.Findings.Add(open);
            }
            else if (!ever)
            {
                results.Findings.Add(
                    new ProofFinding(
                        ProofKind.EmptyPremise,
                        claim.Claim.Origin,
                        $"The claim “{claim.Claim.Text}” holds, but is empty: no record ever meets its condition.",
                        "Correct the condition after when.",
                        []
                    )
                );
            }
            else
            {
                results.Holds(
                    ProofTopic.Claims,
                    everComplete
                        ? $"The claim “{claim.Claim.Text}”, for complete records and for all."
                        : $"The claim “{claim.Claim.Text}”, for all records; no complete one meets its condition."
                );
            }
        }
        catch (ProofLimitException)
        {
            results.Holds(ProofTopic.Claims, $"The claim “{claim.Claim.Text}”, for complete records.");
            throw;
        }
    }

    private static ProofFinding? Check(
        ProofResults results,
        ClaimLines claim,
        int[] lines,
        bool untried,
        out bool ever
    )
    {
        ever = false;
        foreach (var part in results.Parts(untried))
        {
            ever = ever || results.Search.Exists(part, [claim.PremiseLine], Asked.Are(1));
            if (results.Search.Find(part, lines, Asked.Are(1, 1)) is { } witness)
            {
                var named = results.Protocol.Outcomes.Where(o => IsNamed(o.Name, claim.Claim));
                return new ProofFinding(
                    ProofKind.ClaimFails,
                    claim.Claim.Origin,
                    untried
                        ? $"The claim “{claim.Claim.Text}” holds for complete records, but not where an answer is untried{results.Where(part)}."
                        : $"The claim “{claim.Claim.Text}” is false{results.Where(part)}.",
                    "Correct the rules, or the claim.",
                    [results.Sitting(part, witness, named)]
                );
            }
        }

        return null;
    }

    private static bool IsNamed(string outcome, Claim claim) =>
        $"{claim.Premise} {claim.Conclusion}"
            .Split([' ', '(', ')', ',', '+', '*', '/'], StringSplitOptions.RemoveEmptyEntries)
            .Contains(outcome, StringComparer.Ordinal);
}
