using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Whether pairs of sheets keep a table's bands in order: asked in several ways, the cheapest first.</summary>
/// <param name="isSofter">A second sheet may not have the better band of two, and otherwise not the worse.</param>
/// <param name="ways">All that can be found out about the way of values.</param>
/// <param name="byValue">Whether the way of a table's values says that bands stay in order.</param>
internal sealed class BandPairs(
    Pairs pairs,
    PairSearch search,
    bool isSofter,
    BetterWays ways,
    Func<Part, BandLine, BetterWays, bool> byValue
)
{
    private const long Limit = 400_000;

    private readonly BetterWays _formulas = new(pairs, isExact: false);
    private readonly Dictionary<(Part, int), bool?> _known = [];
    private readonly Dictionary<(Part Part, int Line), PairFound> _some = [];

    /// <summary>The first part of the table's form with a pair that shows a forbidden band; null where there is none.</summary>
    /// <exception cref="ProofLimitException">It is too large.</exception>
    public (Part Part, PairFound Pair)? Find(IEnumerable<Part> parts, BandLine band)
    {
        var isOneForm = !pairs.Questions.Protocol.HasShortForm;
        var untriedToo = true;
        foreach (var part in parts.Where(p => isOneForm || (p.Form == 1) == band.Table.ShortForm))
        {
            // With untried answers all patterns are compared, the one without any among them.
            untriedToo = untriedToo && IsProved(part with { Untried = true }, band);
            if (untriedToo || Hold(part, band) == true)
            {
                continue;
            }

            PairFound[] known = _some.TryGetValue((part, band.Line), out var some) ? [some] : [];
            if (search.Find(part, Limit, [band.Line], Forbidden(band.Table.Bands.Count), known) is { } pair)
            {
                _some[(part, band.Line)] = pair;
                return (part, pair);
            }
        }

        return null;
    }

    /// <summary>Pairs that show a forbidden band, as far as any is known, of those ages.</summary>
    public IEnumerable<PairFound> Known(AgeRange ages) =>
        _some.Where(s => s.Key.Part.Ages == ages).Select(s => s.Value);

    /// <summary>Of places in a list of so many bands, the worst first; places behind it are no bands.</summary>
    public bool IsForbidden(long first, long second, int bands) =>
        IsForbidden(first, second, bands, isSofter);

    private static bool IsForbidden(long first, long second, int bands, bool isSofter) =>
        first < bands && second < bands && (isSofter ? second > first : second < first);

    private Asked Forbidden(int bands) => Forbidden(bands, isSofter);

    /// <summary>Asks it of a line with bands on both sheets.</summary>
    public static Asked Forbidden(int bands, bool isSofter) =>
        new(
            v => IsForbidden(v(0), v(1), bands, isSofter),
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
            _known[(part, band.Line)] = hold = IsRefuted(part, band)
                ? false
                : Quickly(part, band)
                    ?? ByLimits(part, band)
                    ?? (byValue(part, band, ways) ? true : Exactly(part, band));
        }

        return hold;
    }

    /// <summary>Whether no pair shows a forbidden band, as far as that is quickly found out.</summary>
    private bool IsProved(Part part, BandLine band)
    {
        if (!_known.TryGetValue((part, band.Line), out var hold) && (hold = Quickly(part, band)) is not null)
        {
            _known[(part, band.Line)] = hold;
        }

        return hold == true;
    }

    private bool? Quickly(Part part, BandLine band) =>
        byValue(part, band, _formulas) ? true
        : IsTried(part, band) ? false
        : IsCrossed(part, band) == false ? true
        : null;

    /// <summary>Whether a plain pair shows the contrary.</summary>
    private bool IsTried(Part part, BandLine band)
    {
        if (
            search.Tried(part, [band.Line], Forbidden(band.Table.Bands.Count), OutcomeOf(band))
            is not { } pair
        )
        {
            return false;
        }

        _some[(part, band.Line)] = pair;
        return true;
    }

    /// <summary>Complete records are among those that may have untried answers: a pair of them says it of both.</summary>
    private bool IsRefuted(Part part, BandLine band) =>
        part.Untried && _known.GetValueOrDefault((part with { Untried = false }, band.Line)) == false;

    public OutcomeLines OutcomeOf(BandLine band) =>
        pairs.Questions.Program.Outcomes.First(o => o.Outcome.Name == band.Table.Outcome.Name);

    /// <summary>
    /// A forbidden band needs all of one sheet's possible values on one side of a limit and all of the other's on the other side. More of
    /// one end and less of the other can only help to show it, so of most pairs only those ahead of the others are kept. A pair that
    /// crosses a limit may still be undecided: it counts once its bands are seen.
    /// </summary>
    private bool? ByLimits(Part part, BandLine band)
    {
        if (IsCrossed(part, band) is not true and var crosses)
        {
            return crosses is null ? null : true;
        }

        var forbidden = Forbidden(band.Table.Bands.Count);
        var goal = Crossing([part], band, pairs.Space(part), pairs.GraphOf(part));
        if (search.Some(part, Limit, goal, [band.Line], forbidden) is not { } pair)
        {
            return null;
        }

        _some[(part, band.Line)] = pair;
        return false;
    }

    /// <summary>
    /// Whether some pair crosses a limit the forbidden way, asked of all ages for which the same formula counts first; null where the table
    /// has no limits, or where it is too large.
    /// </summary>
    private bool? IsCrossed(Part part, BandLine band)
    {
        if (!HasLimits(part, band))
        {
            return null;
        }

        var alike = Alike(part, band);
        if (alike.Count > 1 && pairs.May(part, Limit, (s, g) => Crossing(alike, band, s, g)) == false)
        {
            alike.ForEach(p => _known[(p, band.Line)] = true);
            return false;
        }

        return pairs.May(part, Limit, (s, g) => Crossing([part], band, s, g));
    }

    /// <summary>
    /// Other ages at which the value is the same formula and only the limits differ, with this one: mostly no limit of any of them is
    /// crossed, which is asked at once.
    /// </summary>
    private List<Part> Alike(Part part, BandLine band)
    {
        var rises = TableOrder.Of(band.Table, part.Ages.From).Rises;
        var first = First(part);
        return
        [
            .. AgeParts
                .Of(pairs.Questions.Protocol)
                .Select(ages => part with { Ages = ages })
                .Where(p =>
                    HasLimits(p, band)
                    && TableOrder.Of(band.Table, p.Ages.From).Rises == rises
                    && First(p) == first
                ),
        ];

        AgeRange First(Part of)
        {
            var outcome = OutcomeOf(band);
            int[] lines = [outcome.StateLine, outcome.LowLine, outcome.HighLine];
            return AgeParts.FirstLike(pairs.Questions.Protocol, of.Ages, lines);
        }
    }

    private bool HasLimits(Part part, BandLine band)
    {
        var (rises, falls) = TableOrder.Of(band.Table, part.Ages.From);
        return rises != falls && LimitsOf(part, band) is not null;
    }

    private IReadOnlyList<(long Low, long High)>? LimitsOf(Part part, BandLine band) =>
        OutcomeOf(band) is { LowDenominatorLine: < 0 } outcome
            ? TableOrder.Limits(band.Table, part.Ages.From, outcome.Scale)
            : null;

    /// <summary>One of the limits of some ages is crossed the forbidden way.</summary>
    private Node Crossing(List<Part> parts, BandLine band, PairSpace space, Graph graph)
    {
        var outcome = OutcomeOf(band);
        var mayFall = TableOrder.Of(band.Table, parts[0].Ages.From).Rises != isSofter; // the forbidden way of a value
        var (lower, higher) = mayFall ? (space.Second, space.First) : (space.First, space.Second);
        var (most, least) = (lower.Lines.Line(outcome.HighLine), higher.Lines.Line(outcome.LowLine));
        var known = new[] { space.First, space.Second }.Select(s =>
            graph.Equal(s.Lines.Line(outcome.StateLine), graph.Constant((long)State.Known))
        );
        var crossing = parts
            .SelectMany(p => LimitsOf(p, band)!)
            .Distinct()
            .Select(l =>
                graph.Both([
                    graph.AtMost(most, graph.Constant(l.Low)),
                    graph.AtMost(graph.Constant(l.High), least),
                ])
            );
        return graph.Both([.. known, graph.Either(crossing)]);
    }

    private bool? Exactly(Part part, BandLine band) =>
        pairs.Never(part, Limit, band.Line, (a, b) => IsForbidden(a, b, band.Table.Bands.Count));
}
