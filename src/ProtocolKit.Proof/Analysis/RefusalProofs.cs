using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// An answer that is refused never softens what comes out: a band stays, gets more cautious or is left open, and no action is lost
/// unless a more severe one, or one marked finish, stands in its place. What routing asks for because of the refusal stays empty.
/// </summary>
internal sealed class RefusalProofs
{
    private const long Limit = 25_000;

    private readonly ProofResults _results;
    private readonly PairSearch _search;
    private readonly BetterWays _ways;
    private readonly BandPairs _bands;

    private RefusalProofs(ProofResults results)
    {
        _results = results;
        var pairs = new Pairs(results.Questions, PairKind.Refused);
        _search = new PairSearch(pairs, results.Beyond);
        _ways = new BetterWays(pairs);
        _bands = new BandPairs(pairs, _search, isSofter: true, _ways, ByValue);
    }

    public static void Run(ProofResults results)
    {
        var proofs = new RefusalProofs(results);
        var found = false;
        foreach (var band in results.Program.Bands)
        {
            var name = $"{band.Table.Outcome.Name}{(band.Table.ShortForm ? ", short form" : "")}";
            var here = false;
            var isWhole = results.Try(
                $"That a refusal never gives a better band of {name}",
                band.Table.Origin,
                () => here = proofs.Softer(band, name)
            );
            found |= here || !isWhole;
        }

        if (results.Program.Bands.Count > 0 && !found)
        {
            results.Holds(ProofTopic.Refusal, "A refusal never gives a better band.");
        }

        if (results.Program.Actions.Count == 0)
        {
            return;
        }

        var lost = false;
        var isProved = results.Try(
            "That a refusal never softens what to do",
            results.Program.Actions[0].Action.Origin,
            () => lost = proofs.Lost()
        );
        if (isProved && !lost)
        {
            results.Holds(ProofTopic.Refusal, "A refusal never softens what to do.");
        }
    }

    private bool Softer(BandLine band, string name)
    {
        if (_bands.Find(_results.AllParts, band) is not var (part, pair))
        {
            return false;
        }

        _results.Found(
            ProofKind.SofterRefusal,
            band.Table.Origin,
            $"A refused answer can give a better band of {name}: {band.Table.Bands[(int)pair.SecondLines[band.Line]].Name} after {band.Table.Bands[(int)pair.FirstLines[band.Line]].Name}{_results.Where(part)}.",
            band.Table.Outcome.Untried == UntriedPolicy.ScaledUp
                ? "Let an untried answer leave the value open, without untried scaled up, or write untried blocks."
                : "Let an untried answer leave the value open, or write untried blocks.",
            null,
            _results.TwoSittings(part, pair, PairKind.Refused, band.Table.Outcome)
        );
        return true;
    }

    /// <summary>Where the end that a better band needs can only get worse, a refusal gives no better band.</summary>
    private bool ByValue(Part part, BandLine band, BetterWays ways)
    {
        var outcome = _bands.OutcomeOf(band);
        var (rises, falls) = TableOrder.Of(band.Table, part.Ages.From);
        return (
                rises
                && (KeepsBest(outcome, Keep.Highest) || !ways.Of(part, outcome.LowLine).HasFlag(Way.MayRise))
            )
            || (
                falls
                && (KeepsBest(outcome, Keep.Lowest) || !ways.Of(part, outcome.HighLine).HasFlag(Way.MayFall))
            );
    }

    /// <summary>
    /// The value is that of the trial with the most (or the least) of it among those given: without one of them it is no more, or open.
    /// </summary>
    private bool KeepsBest(OutcomeLines outcome, Keep keep)
    {
        var kept = ProgramReads.Of(_results.Program, outcome);
        var tasks = kept.Select(k => k.Task).Distinct().ToList();
        return outcome.Outcome.Untried == UntriedPolicy.Bounds
            && tasks is [var task]
            && kept.Select(k => k.Variant.Name).Distinct().Count() == 1
            && task.Trials.Keep == keep
            && task.Trials.FurtherWhen is null
            && !_results.Program.Giving.Any(g => g.Task.Name == task.Name)
            && (
                task.Trials.By == outcome.Outcome.Name
                || (kept.Count == 1 && kept[0].Response.Name == task.Trials.By && IsOneAnswer(outcome))
            );
    }

    /// <summary>The value is the answer itself, and rises with it.</summary>
    private static bool IsOneAnswer(OutcomeLines outcome) =>
        !outcome.Outcome.Formula.Contains(' ', StringComparison.Ordinal);

    private bool Lost()
    {
        if (
            _search.FindFirst(_results.AllParts, Limit, Lines(), Losing(), _bands.Known, RelationOf)
            is not var (part, pair)
        )
        {
            return false;
        }

        var actions = _results.Program.Actions;
        var lost = LostIn(
            [.. Lines().Select(l => pair.FirstLines[l] != 0)],
            [.. Lines().Select(l => pair.SecondLines[l] != 0)]
        );
        _results.Found(
            ProofKind.SofterRefusal,
            actions[lost].Action.Origin,
            $"A refused answer can make {actions[lost].Action.Name} go without anything more severe in its place{_results.Where(part)}.",
            actions.Any(a => a.Action.Finish)
                ? "Let the action marked finish catch such a record, for example: when any band is undecided or blocked"
                : "Add an action marked finish for records that are not complete, such as: when any band is undecided or blocked",
            null,
            _results.TwoSittings(part, pair, PairKind.Refused, [.. _results.Banded()])
        );
        return true;
    }

    private Asked Losing() => new(v => LostIn(v) >= 0, IsLost);

    /// <summary>For each action whether it surely applies, then for each whether it surely doesn't.</summary>
    private int[] Lines() =>
        [
            .. _results.Program.Actions.Select(a => a.AppliesLine),
            .. _results.Program.Actions.Select(a => a.AppliesNotLine),
        ];

    private int LostIn(Func<int, long> value)
    {
        var width = 2 * _results.Program.Actions.Count;
        return LostIn(
            [.. Enumerable.Range(0, width).Select(i => value(i) != 0)],
            [.. Enumerable.Range(0, width).Select(i => value(width + i) != 0)]
        );
    }

    /// <summary>The same as a value of the graph.</summary>
    private Node IsLost(Graph graph, IReadOnlyList<Node> values)
    {
        var actions = _results.Program.Actions;
        var count = actions.Count;
        var (first, second) = (values.Take(count).ToList(), values.Skip(2 * count).Take(count).ToList());
        var open = graph.Either(
            Enumerable
                .Range(0, count)
                .Select(i => graph.Both([graph.Not(second[i]), graph.Not(values[(3 * count) + i])]))
        );
        var lost = Enumerable
            .Range(0, count)
            .Select(x =>
                graph.Both([
                    first[x],
                    graph.Not(second[x]),
                    .. Enumerable
                        .Range(0, count)
                        .Where(y => y < x || actions[y].Action.Finish)
                        .Select(y => graph.Not(second[y])),
                    actions[x].Action.Finish ? open : graph.One,
                ])
            );
        return graph.Both([graph.Either(second), graph.Either(lost)]);
    }

    /// <summary>
    /// The first action that goes without one in its place, or -1. A sheet that ends without any action is a mistake of its own.
    /// </summary>
    private int LostIn(bool[] first, bool[] second)
    {
        var count = _results.Program.Actions.Count;
        return second.Take(count).Contains(true)
            ? Enumerable.Range(0, count).FirstOrDefault(i => IsLost(first, second, i), -1)
            : -1;
    }

    private bool IsLost(bool[] first, bool[] second, int action)
    {
        var count = _results.Program.Actions.Count;
        if (!first[action] || second[action])
        {
            return false;
        }

        // An action marked finish asks for what is open: it may go once nothing is.
        var isOpen = Enumerable.Range(0, count).Any(i => !second[i] && !second[count + i]);
        if (_results.Program.Actions[action].Action.Finish && !isOpen)
        {
            return false;
        }

        for (var other = 0; other < count; other++)
        {
            if (second[other] && (other < action || _results.Program.Actions[other].Action.Finish))
            {
                return false;
            }
        }

        return true;
    }

    private Func<long, long, bool>? RelationOf(Part part, int line)
    {
        var band = _results.Program.Bands.FirstOrDefault(b => b.Line == line);
        if (band is null)
        {
            return _ways.Of(part, line) switch
            {
                Way.Same => (a, b) => a == b,
                Way.MayRise => (a, b) => a <= b,
                Way.MayFall => (a, b) => a >= b,
                _ => null,
            };
        }

        var bands = band.Table.Bands.Count;
        if (_bands.Hold(part, band) != true)
        {
            return null;
        }

        // Ends that only move apart leave what is open open.
        var outcome = _bands.OutcomeOf(band);
        var widens =
            !KeepsBest(outcome, Keep.Highest)
            && !KeepsBest(outcome, Keep.Lowest)
            && !_ways.Of(part, outcome.LowLine).HasFlag(Way.MayRise)
            && !_ways.Of(part, outcome.HighLine).HasFlag(Way.MayFall);
        return widens
            ? (a, b) => a < bands ? b == a || b >= bands : a != bands || b >= bands
            : (a, b) => !_bands.IsForbidden(a, b, bands);
    }
}
