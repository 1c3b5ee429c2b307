using System.Numerics;
using System.Runtime.InteropServices;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>
/// Counts of few whole values in one sum: value n adds 256^n, so that byte n of the sum says how often it occurs. Cells are
/// turned into these weights several at once, and a sum of whole numbers below 2^53 is exact in a double.
/// </summary>
internal static class PackedCounts
{
    private const int MostValues = 6; // six bytes are below 2^53
    private const int MostCells = byte.MaxValue;
    private const double Whole = 1L << 52; // added to a small whole number it leaves the number in the lowest bits
    private const int ToExponent = 52 + 3; // moves n to where a double keeps its exponent, times 8: 2^(8n)
    private const long One = 1023L << 52; // the bits of 1.0

    public static bool Fit(int values, int cells) => values <= MostValues && cells <= MostCells;

    /// <summary>The packed counts of cells that are whole numbers from <paramref name="least"/> up, or missing.</summary>
    public static long Of(ReadOnlySpan<double> cells, double least)
    {
        var shift = new Vector<double>(Whole - least);
        var sum = Vector<double>.Zero;
        var blocks = MemoryMarshal.Cast<double, Vector<double>>(cells);
        foreach (var block in blocks)
        {
            var number = Vector.AsVectorInt64(block + shift) << ToExponent;
            var present = Vector.Equals(block, block); // a missing cell differs from itself
            sum += Vector.AsVectorDouble((number + new Vector<long>(One)) & present);
        }

        var packed = (long)Vector.Sum(sum);
        foreach (var cell in cells[(blocks.Length * Vector<double>.Count)..])
        {
            packed += double.IsNaN(cell) ? 0 : 1L << (8 * (int)(cell - least));
        }

        return packed;
    }

    /// <summary>How often the value with this number occurs.</summary>
    public static int Count(long packed, int number) => (byte)(packed >> (8 * number));
}
