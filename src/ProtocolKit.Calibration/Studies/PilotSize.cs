using ProtocolKit.Calibration.Accuracy;

namespace ProtocolKit.Calibration.Studies;

/// <summary>How many children of a kind an interval of a wanted width needs.</summary>
public static class PilotSize
{
    private const int Most = 100_000;

    /// <summary>The smallest number whose Wilson interval about the expected share is at most so wide on either side, on average.</summary>
    /// <param name="share">Between 0 and 1.</param>
    /// <param name="halfWidth">Half the interval's width, above 0.</param>
    public static int Cases(double share, double halfWidth, double confidence = 0.95)
    {
        var (low, high) = (1, Most);
        while (low < high)
        {
            var middle = (low + high) / 2;
            var interval = ProportionIntervals.Wilson(share * middle, middle, confidence);
            if ((interval.High - interval.Low) / 2 <= halfWidth)
            {
                high = middle;
            }
            else
            {
                low = middle + 1;
            }
        }

        return low;
    }
}
