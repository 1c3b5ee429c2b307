using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <param name="Line">Where it is stated; null for the default.</param>
internal sealed record BoundPolicy(UntriedPolicy Kind, int AtMost, Statement? Line);

/// <summary>What a measure or score says about untried answers: nothing, that they block it, or that a few are made up for.</summary>
internal static class UntriedPolicies
{
    private const int Most = 10_000;

    public static BoundPolicy Of(OutcomeBlock block, DiagnosticBag diagnostics)
    {
        var lines = block.Body.Where(l => l is UntriedBlocksLine or UntriedScaledLine).ToList();
        if (lines.Count > 1)
        {
            diagnostics.Clash(lines[1].At, lines[0].At, MeaningMessages.LineTwice("untried"));
        }

        return lines.FirstOrDefault() switch
        {
            null => new BoundPolicy(UntriedPolicy.Bounds, 0, null),
            UntriedScaledLine scaled => new BoundPolicy(
                UntriedPolicy.ScaledUp,
                AtMost(scaled, diagnostics),
                scaled
            ),
            var blocks => new BoundPolicy(UntriedPolicy.Blocks, 0, blocks),
        };
    }

    private static int AtMost(UntriedScaledLine line, DiagnosticBag diagnostics)
    {
        if (line.AtMost.Number is { IsInteger: true, Sign: > 0 } number && number < Most)
        {
            return (int)number.Numerator;
        }

        diagnostics.Report(
            line.Source,
            line.AtMost.Place,
            NumberMessages.Number(
                "So many untried parts can't be made up for.",
                "Write a whole number from 1, as in: untried scaled up, at most 1"
            )
        );
        return 1;
    }
}
