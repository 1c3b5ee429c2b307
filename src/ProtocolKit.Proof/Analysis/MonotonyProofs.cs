using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Better answers never bring a worse band or a more severe headline, over all pairs of sheets and not single steps alone. A pair
/// counts where both sheets are decided.
/// </summary>
internal sealed class MonotonyProofs
{
    private const long Limit = 25_000;

    private readonly ProofResults _results;
    private readonly PairSearch _search;
    private readonly BetterWays _ways;
    private readonly BandPairs _bands;

    private MonotonyProofs(ProofResults results)
    {
        _results = results;
        var pairs = new Pairs(results.Questions, PairKind.Better);
        _search = new PairSearch(pairs, results.Beyond);
        _ways = new BetterWays(pairs);
        _bands = new BandPairs(pairs, _search, isSofter: false, _ways, ByValue);
    }

    public static void Run(ProofResults results)
    {
        var proofs = new MonotonyProofs(results);
        foreach (var band in results.Program.Bands)
        {
            proofs.Table(band);
        }

        if (results.Program.Actions.Count > 0)
        {
            proofs.Actions();
        }
    }

    private void Table(BandLine band)
    {
        var table = band.Table;
        var name = $"{table.Outcome.Name}{(table.ShortForm ? ", short form" : "")}";
        var found = false;
        var isWhole = _results.Try(
            $"That better answers never give a worse band of {name}",
            table.Origin,
            () => found = Table(band, name)
        );
        if (isWhole && !found)
        {
            _results.Holds(ProofTopic.Monotony, $"Better answers never give a worse band of {name}.");
        }
    }

    private bool Table(BandLine band, string name)
    {
        if (_bands.Find(_results.AllParts, band) is not var (part, pair))
        {
            return false;
        }

        _results.Found(
            ProofKind.WorseBand,
            band.Table.Origin,
            $"A better sitting can get a worse band of {name}: {band.Table.Bands[(int)pair.SecondLines[band.Line]].Name} after {band.Table.Bands[(int)pair.FirstLines[band.Line]].Name}{_results.Where(part)}.",
            "Correct the rules, or write worse on purpose \"why\" under the cut-offs.",
            band.Table.WorseOnPurpose,
            _results.TwoSittings(part, pair, PairKind.Better, band.Table.Outcome)
        );
        return true;
    }

    private bool ByValue(Part part, BandLine band, BetterWays ways)
    {
        var outcome = _bands.OutcomeOf(band);
        var (rises, falls) = TableOrder.Of(band.Table, part.Ages.From);
        if (!rises && !falls)
        {
            return false;
        }

        var way = ways.Of(part, outcome.LowLine) | ways.Of(part, outcome.HighLine);
        return (rises && !way.HasFlag(Way.MayFall)) || (falls && !way.HasFlag(Way.MayRise));
    }

    private void Actions()
    {
        var origin = _results.Program.Actions[0].Action.Origin;
        var found = false;
        var isWhole = _results.Try(
            "That better answers never bring a more severe action",
            origin,
            () => found = WorseAction()
        );
        if (isWhole && !found)
        {
            _results.Holds(ProofTopic.Monotony, "Better answers never bring a more severe action.");
        }
    }

    private bool WorseAction()
    {
        if (
            _search.FindFirst(_results.AllParts, Limit, Lines(), MoreSevere(), _bands.Known, RelationOf)
            is not var (part, pair)
        )
        {
            return false;
        }

        var actions = _results.Program.Actions;
        var (first, second) = (
            actions[(int)pair.FirstLines[_results.Program.HeadlineLine]].Action,
            actions[(int)pair.SecondLines[_results.Program.HeadlineLine]].Action
        );
        _results.Found(
            ProofKind.WorseAction,
            second.Origin,
            $"A better sitting can bring a more severe action: {second.Name} after {first.Name}{_results.Where(part)}.",
            Fix(second),
            second.WorseOnPurpose,
            _results.TwoSittings(part, pair, PairKind.Better, [.. _results.Banded()])
        );
        return true;
    }

    /// <summary>The headline, then for each action whether it surely applies and whether it surely doesn't.</summary>
    private int[] Lines() =>
        [
            _results.Program.HeadlineLine,
            .. _results.Program.Actions.SelectMany(a => new[] { a.AppliesLine, a.AppliesNotLine }),
        ];

    private Asked MoreSevere() => new(IsMoreSevere, IsMoreSevere);

    private bool IsMoreSevere(Func<int, long> value)
    {
        var width = Lines().Length;
        var (first, second) = (value(0), value(width));
        return first >= 0
            && second >= 0
            && second < first
            && !_results.Program.Actions[(int)first].Action.Finish
            && !_results.Program.Actions[(int)second].Action.Finish
            && IsDecided(value, 1)
            && IsDecided(value, width + 1);
    }

    private bool IsDecided(Func<int, long> value, int from)
    {
        for (var i = 0; i < _results.Program.Actions.Count; i++)
        {
            if (value(from + (2 * i)) == 0 && value(from + (2 * i) + 1) == 0)
            {
                return false;
            }
        }

        return true;
    }

    private Node IsMoreSevere(Graph graph, IReadOnlyList<Node> values)
    {
        var actions = _results.Program.Actions;
        var width = Lines().Length;
        var (first, second) = (values[0], values[width]);
        var all = new List<Node> { graph.AtMost(graph.Zero, second), graph.Not(graph.AtMost(first, second)) };
        for (var i = 0; i < actions.Count; i++)
        {
            all.Add(graph.Either([values[1 + (2 * i)], values[2 + (2 * i)]]));
            all.Add(graph.Either([values[width + 1 + (2 * i)], values[width + 2 + (2 * i)]]));
            if (actions[i].Action.Finish)
            {
                all.Add(graph.Not(graph.Equal(first, graph.Constant(i))));
                all.Add(graph.Not(graph.Equal(second, graph.Constant(i))));
            }
        }

        return graph.Both(all);
    }

    private Func<long, long, bool>? RelationOf(Part part, int line)
    {
        var band = _results.Program.Bands.FirstOrDefault(b => b.Line == line);
        if (band is not null)
        {
            var bands = band.Table.Bands.Count;
            return _bands.Hold(part, band) == true ? (a, b) => !_bands.IsForbidden(a, b, bands) : null;
        }

        return _ways.Of(part, line) switch
        {
            Way.Same => (a, b) => a == b,
            Way.MayRise => (a, b) => a <= b,
            Way.MayFall => (a, b) => a >= b,
            _ => null,
        };
    }

    /// <summary>A count of one middle band falls where a worse one becomes it: the trap has a way out.</summary>
    private string Fix(ProtocolAction action)
    {
        var counted = action.Conditions.FirstOrDefault(c =>
            c.Contains(" or more bands are ", StringComparison.Ordinal)
            && !c.EndsWith(" or worse", StringComparison.Ordinal)
            && !_results.Program.Bands.Any(b =>
                c.EndsWith($" are {b.Table.Bands[0].Name}", StringComparison.Ordinal)
            )
        );
        return counted is null
            ? "Correct the conditions, or write worse on purpose \"why\" under the action."
            : $"Write {counted} or worse: then a band that gets better never adds to the count. Or write worse on purpose \"why\" under the action.";
    }
}
