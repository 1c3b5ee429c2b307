using System.Numerics;
using System.Runtime.InteropServices;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>The values a matrix can hold, ascending, and where each stands.</summary>
internal sealed class ValueScale
{
    private const int WidestRange = 4096;

    private ValueScale(double[] values, bool direct)
    {
        Values = values;
        IsDirect = direct;
    }

    public double[] Values { get; }

    /// <summary>A short range of whole numbers is its own numbering: nothing is sorted or searched.</summary>
    public bool IsDirect { get; }

    public static ValueScale Of(RatingMatrix ratings)
    {
        var (least, most, whole) = Range(ratings.AllCells());
        return least > most ? new ValueScale([], true) // no value at all
            : whole && most - least < WidestRange
                ? new ValueScale(
                    [.. Enumerable.Range(0, (int)(most - least) + 1).Select(i => least + i)],
                    true
                )
            : new ValueScale(ratings.Levels(), false);
    }

    /// <summary>The number of a value that occurs.</summary>
    public int Code(double value) => IsDirect ? (int)(value - Values[0]) : Array.BinarySearch(Values, value);

    /// <summary>The least and the largest value, and whether all are whole; of nothing, infinities the wrong way round.</summary>
    private static (double Least, double Most, bool Whole) Range(ReadOnlySpan<double> cells)
    {
        var (most, least) = (
            new Vector<double>(double.NegativeInfinity),
            new Vector<double>(double.PositiveInfinity)
        );
        var broken = Vector<long>.Zero;
        var blocks = MemoryMarshal.Cast<double, Vector<double>>(cells);
        foreach (var block in blocks)
        {
            // Comparisons with a missing cell are false, so it never counts.
            least = Vector.ConditionalSelect(Vector.LessThan(block, least), block, least);
            most = Vector.ConditionalSelect(Vector.GreaterThan(block, most), block, most);
            broken |= Vector.GreaterThan(block, Vector.Floor(block));
        }

        var (low, high, whole) = (
            double.PositiveInfinity,
            double.NegativeInfinity,
            broken == Vector<long>.Zero
        );
        for (var lane = 0; lane < Vector<double>.Count; lane++)
        {
            (low, high) = (Math.Min(low, least[lane]), Math.Max(high, most[lane]));
        }

        foreach (var value in cells[(blocks.Length * Vector<double>.Count)..])
        {
            (low, high) = (value < low ? value : low, value > high ? value : high);
            whole &= !(value > Math.Floor(value));
        }

        return (low, high, whole);
    }
}
