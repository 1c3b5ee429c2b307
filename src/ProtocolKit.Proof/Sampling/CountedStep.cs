using System.Numerics;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Sampling;

/// <summary>
/// What joining one more part comes to: distinct rows, how many records give each, and for each row every pair of rows it comes
/// from, so that the way back can be drawn.
/// </summary>
/// <param name="Counts">Records by row.</param>
/// <param name="Starts">Where the pairs of a row begin; one more than there are rows.</param>
/// <param name="Before">The row before of each pair; 0 where there was none.</param>
/// <param name="Joined">The row that was joined; of a leaf, its filling.</param>
internal sealed record CountedStep(
    RowTable Rows,
    BigInteger[] Counts,
    int[] Starts,
    int[] Before,
    int[] Joined
)
{
    private readonly Dictionary<int, BigInteger[]> _upTo = [];

    /// <summary>For each pair of a row the records of the pairs up to it, added up once.</summary>
    public BigInteger[] UpTo(int row, Func<int, BigInteger> records)
    {
        if (!_upTo.TryGetValue(row, out var sums))
        {
            sums = new BigInteger[Starts[row + 1] - Starts[row]];
            var sum = BigInteger.Zero;
            for (var i = 0; i < sums.Length; i++)
            {
                sums[i] = sum += records(Starts[row] + i);
            }

            _upTo[row] = sums;
        }

        return sums;
    }

    /// <summary>Collects pairs as they are found.</summary>
    internal sealed class Builder(IReadOnlyList<Node> columns, StepCode code)
    {
        private readonly RowTable _rows = new(columns);
        private readonly int[] _registers = [.. columns.Select(code.RegisterOf)];
        private readonly List<BigInteger> _counts = [];
        private readonly List<(int Row, int Before, int Joined)> _pairs = [];

        public int Pairs => _pairs.Count;

        public void Add(long[] frame, BigInteger ways, int before, int joined)
        {
            var (row, isNew) = _rows.Find(frame, _registers);
            if (isNew)
            {
                _counts.Add(ways);
            }
            else
            {
                _counts[row] += ways;
            }

            _pairs.Add((row, before, joined));
        }

        public CountedStep Build()
        {
            var starts = new int[_rows.Count + 1];
            foreach (var (row, _, _) in _pairs)
            {
                starts[row + 1]++;
            }

            for (var row = 0; row < _rows.Count; row++)
            {
                starts[row + 1] += starts[row];
            }

            var (before, joined) = (new int[_pairs.Count], new int[_pairs.Count]);
            var next = starts.ToArray();
            foreach (var pair in _pairs)
            {
                var at = next[pair.Row]++;
                (before[at], joined[at]) = (pair.Before, pair.Joined);
            }

            return new CountedStep(_rows, [.. _counts], starts, before, joined);
        }
    }
}
