using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// The smallest pair of sheets that makes a condition true (R22), looked for among pairs with few answers that are not flawless, then
/// among more.
/// </summary>
/// <param name="near">Asks about pairs of a part with so many such answers at most, within so many rows.</param>
internal sealed class SmallestPairs(Func<Part, Node, long, int, Reach> near)
{
    /// <summary>So many answers of both sheets that are not flawless, one after another.</summary>
    private static readonly int[] Differing = [2, 6, 10, 15, 20, 32, int.MaxValue];

    private readonly Dictionary<string, List<(int Place, int Filling)>?> _known = new(StringComparer.Ordinal);
    private readonly QuestionShapes _shapes = new();

    /// <summary>The parts of the pair, each with the way it is filled; null where looking for it takes too much.</summary>
    /// <exception cref="ProofLimitException">A part has too many rows to list.</exception>
    public IReadOnlyList<(int Part, int Filling)>? Find(Part part, PairSpace space, Node goal, long limit)
    {
        // Sections of one kind ask the same of other tasks.
        var (name, parts) = _shapes.Of(space, [goal], isFilled: true);
        if (!_known.TryGetValue(name, out var known))
        {
            var places = parts.Index().ToDictionary(p => p.Item, p => p.Index);
            _known[name] = known = Find(part, goal, limit)?.Select(c => (places[c.Part], c.Filling)).ToList();
        }

        return known?.ConvertAll(n => (parts[n.Place], n.Filling));
    }

    private IReadOnlyList<(int Part, int Filling)>? Find(Part part, Node goal, long limit)
    {
        var before = (Differing: 0, Work: 0L);
        Reach? reach = null;
        try
        {
            for (var step = 0; ; step++)
            {
                reach = Within(Differing[step], reach, () => near(part, goal, limit, Differing[step]));
                var row = reach.Smallest(r => reach.Value(r, 0) == 1);
                if (row >= 0)
                {
                    return reach.Choices(row);
                }

                var now = (Differing[step], reach.Work);
                if (
                    step + 1 == Differing.Length
                    || Expected(before, now, Differing[step + 1]) > 2 * WorkBudget.Of(limit)
                )
                {
                    return null;
                }

                before = now;
            }
        }
        catch (ProofLimitException)
        {
            return null;
        }
    }

    private static Reach Within(int differing, Reach? reach, Func<Reach> first)
    {
        reach?.Widen(differing);
        return reach ?? first();
    }

    /// <summary>The work grows by the same factor with each answer more.</summary>
    private static double Expected(
        (int Differing, long Work) before,
        (int Differing, long Work) now,
        int next
    ) =>
        before.Work == 0 || next == int.MaxValue
            ? now.Work
            : now.Work
                * Math.Pow(
                    (double)now.Work / before.Work,
                    (double)(next - now.Differing) / (now.Differing - before.Differing)
                );
}
