using System.Text.Json.Nodes;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases.Families;

/// <summary>Kendall's W.</summary>
internal static class KendallFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var r = KendallConcordance.Of(RatingTables.Of(file.Data).CompleteRows());
        var figures = Json.Object(
            ("S", r.S),
            ("W", r.W),
            ("W_tie_corrected", r.W),
            ("W_uncorrected", r.Uncorrected),
            ("chisq", r.ChiSquare),
            ("friedman", r.ChiSquare),
            ("df", r.DegreesOfFreedom),
            ("p", r.P),
            ("mean_spearman", r.MeanSpearman)
        );
        return new CaseResult(figures, label => figures[label]);
    }
}
