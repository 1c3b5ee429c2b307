namespace ProtocolKit.Calibration.Agreement;

/// <summary>Numbers the different values of a matrix from 0, ascending, so that counting needs no searching.</summary>
internal static class ValueCodes
{
    private const int WidestScale = 4096;

    /// <summary>A code for each cell, row after row, −1 for a missing one; and what the codes stand for.</summary>
    public static (int[] Codes, double[] Values) Of(RatingMatrix ratings)
    {
        var codes = new int[ratings.Subjects * ratings.Raters];
        var (least, most, whole) = (double.PositiveInfinity, double.NegativeInfinity, true);
        for (var s = 0; s < ratings.Subjects; s++)
        {
            foreach (var value in ratings.Row(s))
            {
                // Comparisons with a missing cell are false.
                least = value < least ? value : least;
                most = value > most ? value : most;
                whole &= double.IsNaN(value) || value == Math.Floor(value);
            }
        }

        // A short scale of whole numbers is its own numbering.
        var direct = whole && most - least < WidestScale;
        double[] values =
            double.IsInfinity(least) ? []
            : direct ? [.. Enumerable.Range(0, (int)(most - least) + 1).Select(i => least + i)]
            : ratings.Levels();
        for (var (s, at) = (0, 0); s < ratings.Subjects; s++)
        {
            foreach (var value in ratings.Row(s))
            {
                codes[at++] =
                    double.IsNaN(value) ? -1
                    : direct ? (int)(value - least)
                    : Array.BinarySearch(values, value);
            }
        }

        return (codes, values);
    }
}
