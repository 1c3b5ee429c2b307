using ProtocolKit.Model;

namespace ProtocolKit.Proof.Analysis;

/// <summary>A claimed range holds every value, and both its ends are reached (in the form that has more).</summary>
internal static class RangeProofs
{
    public static void Run(ProofResults results)
    {
        foreach (var outcome in results.Program.Outcomes)
        {
            if (outcome.Outcome.ClaimedRange is { } claim && outcome.LowDenominatorLine < 0)
            {
                var found = results.Findings.Count;
                var isWhole = results.Try(
                    $"That {outcome.Outcome.Name} ranges from {claim.From} to {claim.To}",
                    claim.Origin,
                    () => Run(results, outcome, claim)
                );
                if (isWhole && results.Findings.Count == found)
                {
                    results.Holds(
                        ProofTopic.Ranges,
                        $"{outcome.Outcome.Name} ranges from {claim.From} to {claim.To}."
                    );
                }
            }
        }
    }

    private static void Run(ProofResults results, OutcomeLines outcome, RangeClaim claim)
    {
        int[] lines = [outcome.StateLine, outcome.LowLine, outcome.HighLine];
        Rational? least = null;
        Rational? most = null;
        foreach (var part in results.AllParts)
        {
            var reach = results.Questions.Ask(part, lines);
            var outside = reach.Smallest(r =>
                reach.Value(r, 0) == 0
                && (
                    reach.Value(r, 1) * outcome.Scale < claim.From
                    || reach.Value(r, 2) * outcome.Scale > claim.To
                )
            );
            if (outside >= 0)
            {
                var witness = results.Questions.Witness(part, reach, outside, lines);
                results.Findings.Add(
                    new ProofFinding(
                        ProofKind.RangeFails,
                        claim.Origin,
                        $"{outcome.Outcome.Name} can leave the claimed range {claim.From} to {claim.To}{results.Where(part)}.",
                        "Correct the range, or the value.",
                        [results.Sitting(part, witness, outcome.Outcome)]
                    )
                );
                return;
            }

            for (var row = 0; row < reach.Count && !part.Untried; row++)
            {
                if (reach.Value(row, 0) == 0)
                {
                    var (low, high) = (
                        reach.Value(row, 1) * outcome.Scale,
                        reach.Value(row, 2) * outcome.Scale
                    );
                    least = least is null || low < least ? low : least;
                    most = most is null || high > most ? high : most;
                }
            }
        }

        if (least != claim.From || most != claim.To)
        {
            results.Findings.Add(
                new ProofFinding(
                    ProofKind.RangeFails,
                    claim.Origin,
                    $"{outcome.Outcome.Name} is claimed to range from {claim.From} to {claim.To}, but complete records reach {least} to {most}.",
                    $"Write claim range {least} to {most}.",
                    []
                )
            );
        }
    }
}
