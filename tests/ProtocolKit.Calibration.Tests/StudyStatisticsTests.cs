using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Change;
using ProtocolKit.Calibration.Norms;
using ProtocolKit.Calibration.Reliability;

namespace ProtocolKit.Calibration.Tests;

/// <summary>Statistics that only studies use, against figures of R: CrossChecks/studies.R prints every one of them.</summary>
public class StudyStatisticsTests
{
    private static readonly double[] Forty =
    [
        .. new[]
        {
            7.3,
            12.8,
            6.6,
            9.2,
            13.8,
            7.8,
            8,
            7.7,
            8.4,
            9.3,
            12.3,
            7.4,
            6.9,
            8.7,
            6.9,
            8.7,
            7.8,
            5.2,
            9.6,
            8.5,
        },
        .. new[]
        {
            11.3,
            11.4,
            13,
            10.8,
            11.1,
            8.4,
            12.9,
            13.1,
            7.7,
            7.3,
            9.8,
            11.9,
            15.7,
            12.2,
            13.1,
            11.4,
            7,
            5.5,
            5.8,
            8.7,
        },
    ];

    [Fact]
    public void L_M_and_S_are_those_of_the_largest_likelihood()
    {
        var lms = LmsFit.Of(Forty)!;

        // The likelihood is flat at its top: both searches stop within about 1e-8 of each other's L.
        Assert.Equal(0.0969236307, lms.L, 1e-6);
        Assert.Equal(9.216251474, lms.M, 1e-7);
        Assert.Equal(0.271446768, lms.S, 1e-8);
    }

    [Theory]
    [InlineData(0.05, null, 6.9)]
    [InlineData(0.25, 6.9, 8.4)]
    [InlineData(0.5, 7.8, 11.1)]
    [InlineData(0.9, 12.2, 15.7)]
    public void A_percentile_lies_between_two_of_the_values_or_cannot_be_told(
        double share,
        double? low,
        double? high
    ) => Assert.Equal((low, high), PercentileLimits.Of(Forty, share));

    [Fact]
    public void The_error_of_one_sitting_has_the_interval_of_chi_square()
    {
        double[] differences = [1, -2, 0, 3, 1, -1, 2, 2, -3, 0, 1, 4];
        var deviation = Numerics.Descriptive.StandardDeviation(differences);
        var (error, interval) = MeasurementError.OfTwoSittings(deviation, differences.Length);
        Assert.Equal(1.4248870237, error, 1e-9);
        Assert.Equal(1.00938305811, interval.Low, 1e-9);
        Assert.Equal(2.41928435528, interval.High, 1e-9);
    }

    [Theory]
    [InlineData(0.7, 0.05, 142, 136)]
    [InlineData(0.7, 0.1, 36, 34)]
    [InlineData(0.8, 0.05, 114, 121)]
    [InlineData(0.8, 0.1, 29, 31)]
    [InlineData(0.9, 0.05, 68, 76)]
    [InlineData(0.9, 0.1, 17, 19)]
    public void So_many_cases_are_needed_for_an_interval_of_the_area(
        double area,
        double half,
        int hanley,
        int obuchowski
    )
    {
        Assert.Equal(hanley, PilotSize.CasesForArea(area, half, 9));
        Assert.Equal(obuchowski, PilotSize.CasesForAreaBinormal(area, half, 9));
    }

    /// <summary>Table II of Hanley and McNeil (1982): 51 and 58 readings with area 0.893 have an error of 0.032.</summary>
    [Fact]
    public void Planning_for_the_published_error_asks_for_the_published_number_of_cases() =>
        Assert.InRange(PilotSize.CasesForArea(0.89317, 1.959964 * 0.0325, 58.0 / 51), 50, 51);

    [Fact]
    public void Concordance_of_two_raters_has_the_interval_of_their_rank_correlation()
    {
        var interval = KendallConcordance.OfTwoRaters(0.9, 25)!.Value;
        Assert.Equal(0.775048754102, interval.Low, 1e-10);
        Assert.Equal(0.959199584784, interval.High, 1e-10);
        Assert.Null(KendallConcordance.OfTwoRaters(1, 25));
        Assert.Null(KendallConcordance.OfTwoRaters(0.9, 4));
    }

    /// <summary>By hand: of 11 children 27 % are 3; the upper three have 2, 1 and 2 points, the lower 0, 1 and 0 of 2.</summary>
    [Fact]
    public void The_upper_part_is_compared_with_the_lower()
    {
        double[] totals = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11];
        double[] own = [0, 1, 0, 2, 2, 2, 0, 0, 2, 1, 2];
        Assert.Equal(((5 / 3.0) - (1 / 3.0)) / 2, ExtremeGroups.Discrimination(own, totals, 0, 2)!.Value, 12);
        Assert.Null(ExtremeGroups.Discrimination([1], [1], 0, 2));
    }
}
