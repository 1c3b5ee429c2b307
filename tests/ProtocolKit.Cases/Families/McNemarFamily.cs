using System.Text.Json.Nodes;
using ProtocolKit.Calibration.Accuracy;

namespace ProtocolKit.Cases.Families;

/// <summary>McNemar's test from a 2 × 2 table of first by second.</summary>
internal static class McNemarFamily
{
    public static CaseResult Compute(CaseFile file)
    {
        var (name, node) = Input.Tables(file.Data).FirstOrDefault();
        var table = Input.Table(node, name ?? "table");
        var r = McNemarTest.Of(table[0][1], table[1][0]);
        var figures = Json.Object(
            ("chisq_cc", r.ChiSquareCorrected),
            ("p_cc", r.PCorrected),
            ("chisq", r.ChiSquare),
            ("p", r.P),
            ("p_exact", r.PExact)
        );
        return new CaseResult(figures, label => figures[label]);
    }
}
