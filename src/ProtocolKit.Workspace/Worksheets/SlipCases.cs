using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Worksheets;

/// <summary>
/// A worked sheet with one line wrong. The rest is right, and follows from what was written before it, so the slip is the only
/// thing to find.
/// </summary>
internal static class SlipCases
{
    private const int Tries = 60;

    private static readonly Func<SlipSheet, bool>[] Slips =
    [
        SlipSheet.Age,
        SlipSheet.Viewpoint,
        SlipSheet.RefusedAsZero,
        SlipSheet.Help,
        SlipSheet.TrialKept,
        SlipSheet.Intervals,
        SlipSheet.Rounding,
        SlipSheet.BandEdge,
    ];

    /// <summary>The kinds of slip by turns; one the protocol gives no occasion for is passed over.</summary>
    public static PracticeCase Of(CaseSource source, int number)
    {
        for (var turn = 0; turn < Slips.Length; turn++)
        {
            var slip = Slips[(number - 1 + turn) % Slips.Length];
            for (var attempt = 0; attempt < Tries; attempt++)
            {
                var outcome = source.AnyTotal();
                var atLimit = slip == SlipSheet.BandEdge;
                var sheet = new SlipSheet(source, source.AtBand(outcome, atLimit), outcome, number);
                if (slip(sheet))
                {
                    return sheet.Case(number);
                }
            }
        }

        throw new WorksheetRefusedException("The protocol gives no occasion for a slip of these kinds.");
    }
}
