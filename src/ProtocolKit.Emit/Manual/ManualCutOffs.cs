using ProtocolKit.Emit.Paper;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Manual;

/// <summary>Every cut-off table with its basis, those of the full form first.</summary>
internal static class ManualCutOffs
{
    public static IEnumerable<ManualCutOffView> Of(Protocol protocol, OutputOptions options) =>
        protocol
            .CutOffs.Where(t => !options.ShortForm || t.ShortForm)
            .OrderBy(t => t.ShortForm)
            .Select(t => TotalsViews.Banded(protocol, t, options))
            .Zip(protocol.CutOffs.Where(t => !options.ShortForm || t.ShortForm).OrderBy(t => t.ShortForm))
            .Where(p => p.First.Rows.Count > 0)
            .Select(p => View(protocol, p.First, p.Second));

    private static ManualCutOffView View(Protocol protocol, BandedView banded, CutOffTable table) =>
        new(
            table.Outcome.Title,
            !protocol.HasShortForm ? ""
                : table.ShortForm ? "short form"
                : "full form",
            banded.Bands,
            banded.Rows,
            banded.Provisional,
            banded.Basis,
            [.. Details(table.Basis)]
        );

    private static IEnumerable<string> Details(Basis basis) =>
        basis.Cases is { } cases && !basis.Details.Any(d => d.StartsWith("cases", StringComparison.Ordinal))
            ? basis.Details.Prepend(FormattableString.Invariant($"cases {cases}"))
            : basis.Details;
}
