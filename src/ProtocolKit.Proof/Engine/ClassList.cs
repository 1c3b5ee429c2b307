using System.Numerics;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Distinct rows of values with, for each, the smallest way to it and how many ways there are. A way is a row of the list before
/// and a row of what was joined; of a leaf, a filling.
/// </summary>
/// <param name="Cost">Answers that differ from the flawless sheet, then steps off: <see cref="CostOf"/>.</param>
/// <param name="Counts">Null unless asked for.</param>
internal sealed record ClassList(RowTable Rows, long[] Cost, int[] Before, int[] Joined, BigInteger[]? Counts)
{
    private const int StepBits = 36;

    public static long CostOf(long badness) =>
        badness == 0 ? 0 : (1L << StepBits) + Math.Min(badness, (1L << 21) + 8);

    public static int Differing(long cost) => (int)(cost >> StepBits);

    public static long StepsOff(long cost) => cost & ((1L << StepBits) - 1);

    public int Count => Rows.Count;

    /// <summary>Some of the rows, in the order given.</summary>
    public ClassList Only(IReadOnlyList<int> rows) =>
        new(
            Rows.Only(rows),
            [.. rows.Select(r => Cost[r])],
            [.. rows.Select(r => Before[r])],
            [.. rows.Select(r => Joined[r])],
            Counts is null ? null : [.. rows.Select(r => Counts[r])]
        );
}
