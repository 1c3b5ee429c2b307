using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>How single values of two sheets compare, as far as it was proved: by line and the values on both sheets.</summary>
internal sealed class PairRelations(PairKind kind, Func<Part, int, Func<long, long, bool>?> relationOf)
{
    private const int MostPairs = 1_000_000;

    public PairKind Kind => kind;

    /// <summary>The pairs of values of an outcome that no proved relation forbids.</summary>
    /// <exception cref="ProofLimitException">There are too many.</exception>
    public List<(long[] First, long[] Second)> Pairs(
        Part part,
        int[] lines,
        List<long[]> first,
        List<long[]> second
    )
    {
        if ((long)first.Count * second.Count > MostPairs)
        {
            throw new ProofLimitException("there are too many pairs of values to compare");
        }

        var relations = lines.Select(l => relationOf(part, l)).ToArray();
        return
        [
            .. first.SelectMany(a =>
                second
                    .Where(b => !relations.Where((r, i) => r is not null && !r(a[i], b[i])).Any())
                    .Select(b => (a, b))
            ),
        ];
    }
}
