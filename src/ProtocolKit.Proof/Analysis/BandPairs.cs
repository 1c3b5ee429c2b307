using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Whether pairs of sheets keep a table's bands in order: asked in three ways, the cheapest first.</summary>
/// <param name="isSofter">A second sheet may not have the better band of two, and otherwise not the worse.</param>
/// <param name="byValue">What the way of a table's values says already.</param>
internal sealed class BandPairs(Pairs pairs, bool isSofter, Func<Part, BandLine, bool> byValue)
{
    private const long Limit = 400_000;

    private readonly Dictionary<(Part, int), bool?> _known = [];

    /// <summary>The first part of the table's form with a pair that shows a forbidden band; null where there is none.</summary>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public (Part Part, PairFound Pair)? Find(IEnumerable<Part> parts, BandLine band)
    {
        var isOneForm = !pairs.Questions.Protocol.HasShortForm;
        foreach (var part in parts.Where(p => isOneForm || (p.Form == 1) == band.Table.ShortForm))
        {
            // With untried answers all patterns are compared, the one without any among them.
            if (Hold(part with { Untried = true }, band) == true || Hold(part, band) == true)
            {
                continue;
            }

            if (pairs.Find(part, Limit, [band.Line], Forbidden(band.Table.Bands.Count)) is { } pair)
            {
                return (part, pair);
            }
        }

        return null;
    }

    /// <summary>Of places in a list of so many bands, the worst first; places behind it are no bands.</summary>
    public bool IsForbidden(long first, long second, int bands) =>
        first < bands && second < bands && (isSofter ? second > first : second < first);

    private Asked Forbidden(int bands) =>
        new(
            v => IsForbidden(v(0), v(1), bands),
            (g, n) =>
                g.Both([
                    g.AtMost(n[0], g.Constant(bands - 1)),
                    g.AtMost(n[1], g.Constant(bands - 1)),
                    g.Not(isSofter ? g.AtMost(n[1], n[0]) : g.AtMost(n[0], n[1])),
                ])
        );

    /// <summary>False where a pair shows the contrary, null where it was not worked out.</summary>
    public bool? Hold(Part part, BandLine band)
    {
        if (!_known.TryGetValue((part, band.Line), out var hold))
        {
            _known[(part, band.Line)] = hold =
                byValue(part, band) || EndsStayInOrder(part, band) ? true : Exactly(part, band);
        }

        return hold;
    }

    public OutcomeLines OutcomeOf(BandLine band) =>
        pairs.Questions.Program.Outcomes.First(o => o.Outcome.Name == band.Table.Outcome.Name);

    /// <summary>
    /// A forbidden band needs all of one sheet's possible values on one side of a limit and all of the other's on the other side. It takes
    /// one end of each sheet to see that this never happens, where a band takes both.
    /// </summary>
    private bool EndsStayInOrder(Part part, BandLine band)
    {
        var outcome = OutcomeOf(band);
        var (rises, falls) = TableOrder.Of(band.Table, part.Ages.From);
        if (rises == falls || outcome.Outcome.Untried != UntriedPolicy.Bounds)
        {
            return false;
        }

        var mayFall = rises != isSofter; // the forbidden way of a value
        var (first, second) = mayFall
            ? (outcome.LowLine, outcome.HighLine)
            : (outcome.HighLine, outcome.LowLine);
        return pairs.Never(
                part,
                Limit,
                [outcome.StateLine, first],
                [outcome.StateLine, second],
                (reach, row) =>
                    reach.Value(row, 0) == (long)State.Known
                    && reach.Value(row, 2) == (long)State.Known
                    && (
                        mayFall
                            ? reach.Value(row, 3) < reach.Value(row, 1)
                            : reach.Value(row, 3) > reach.Value(row, 1)
                    )
            ) == true;
    }

    private bool? Exactly(Part part, BandLine band) =>
        pairs.Never(
            part,
            Limit,
            [band.Line],
            [band.Line],
            (reach, row) => IsForbidden(reach.Value(row, 0), reach.Value(row, 1), band.Table.Bands.Count)
        );
}
