using System.Text.Json.Nodes;
using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Calibration.Numerics;
using ProtocolKit.Calibration.Resampling;
using ProtocolKit.Cases;

namespace ProtocolKit.Calibration.Tests;

/// <summary>Bad data gives a sentence, never a crash or a figure that is no number; seeds give the same bytes.</summary>
public class RobustnessTests
{
    private static readonly double[] Cases =
    [
        .. Enumerable.Range(0, 40).Select(i => (double)((i * 7 % 19) + 4)),
    ];
    private static readonly double[] Controls =
    [
        .. Enumerable.Range(0, 60).Select(i => (double)(i * 5 % 17)),
    ];

    [Theory]
    [InlineData("""{"id":"icc-99","method":"ICC","data":{"ratings":[[1],[2]]}}""", "Raters")]
    [InlineData("""{"id":"kappa-99","method":"kappa","data":{"table":[[5,0],[0,0]]}}""", "one category only")]
    [InlineData("""{"id":"roc-99","method":"ROC","data":{"cases":[],"controls":[1]}}""", "Cases")]
    [InlineData("""{"id":"kripp-99","method":"alpha","data":{"values":[[null,1],[2,null]]}}""", "Units")]
    [InlineData(
        """{"id":"alpha-99","method":"Cronbach's alpha","data":{"values":[[1,"x"],[2,3]]}}""",
        "a number is needed"
    )]
    [InlineData("""{"id":"zzz-01","method":"astrology","data":{}}""", "No method")]
    [InlineData("""{"id":"prop-99","method":"proportion","data":{"cases":[[5,3]]}}""", "between 0")]
    [InlineData("not json", "can't be read")]
    [InlineData(
        """{"id":"icc-99","method":"ICC","data":{"ratings":[[1,2],[2,3]]},"options":{"missing":"guess"}}""",
        "may be none, listwise"
    )]
    [InlineData(
        """{"id":"gwet-99","method":"AC2","data":{"table":[[5,1],[1,5]]},"options":{"weights":"heavy"}}""",
        "Weights called"
    )]
    [InlineData(
        """{"id":"icc-99","method":"ICC","data":{"ratings":[[1,2],[2,3]]},"options":{"confidence":1.5}}""",
        "between 0 and 1"
    )]
    public void Bad_data_gets_a_sentence(string text, string part)
    {
        var answer = Answering
            .Answer(text)
            .ToJsonString(
                new() { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping }
            );
        Assert.Contains("\"error\"", answer, StringComparison.Ordinal);
        Assert.Contains(part, answer, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", answer, StringComparison.Ordinal);
    }

    [Fact]
    public void Unknown_keys_get_an_error_entry_and_the_others_their_figures()
    {
        var check = CheckFile.Read("mcnemar-01");
        check["expected_published"]!["phase of the moon"] = new JsonObject { ["published"] = "1" };
        check["expected_recomputed"]!["phase"] = 1;
        var answer = Answering.Answer(check.ToJsonString());
        Assert.NotNull(answer["expected_published"]!["phase of the moon"]!["error"]);
        Assert.NotNull(answer["expected_recomputed"]!["phase"]!["error"]);
        Assert.Equal(17.3559, (double)answer["expected_recomputed"]!["chisq"]!, 1e-4);
    }

    /// <summary>A misspelt option is not passed over: the answer says that it had no effect.</summary>
    [Fact]
    public void Options_that_no_method_knows_are_named_in_the_answer()
    {
        var answer = Answering.Answer(
            """{"id":"mcnemar-99","method":"McNemar","data":{"table":[[9,4],[2,7]]},"options":{"confidnce":0.9}}"""
        );
        Assert.Contains(
            "without it",
            (string)answer["options_not_used"]!["confidnce"]!,
            StringComparison.Ordinal
        );
    }

    /// <summary>Totals that lean as no beta distribution can: no fit, no crash.</summary>
    [Fact]
    public void A_beta_of_three_parameters_that_does_not_exist_is_none() =>
        Assert.All(
            Enumerable.Range(1, 200).Select(i => new CutOffs.Moments(0.02 * i % 1, 0.2 / i, (i % 7) - 3, 3)),
            m => Assert.True(CutOffs.BetaFit.ThreeParameters(m) is null or { IsPermissible: true })
        );

    /// <summary>Without any expected part a case is answered as fully.</summary>
    [Theory]
    [MemberData(nameof(CheckTests.Checks), MemberType = typeof(CheckTests))]
    public void Cases_without_an_expected_part_are_answered(string id)
    {
        var check = CheckFile.Read(id);
        check.Remove("expected_published");
        check.Remove("expected_recomputed");
        var answer = Answering.Answer(check.ToJsonString());
        Assert.Null(answer["error"]);
    }

    [Fact]
    public void Bootstraps_give_the_same_bytes_on_one_and_two_threads()
    {
        var one = RocBootstrap.Of(Cases, Controls, 500, 7, CaseDirection.Higher, 1);
        var two = RocBootstrap.Of(Cases, Controls, 500, 7, CaseDirection.Higher, 2);
        Assert.Equal(one.Areas, two.Areas);
        Assert.Equal(one.Youden, two.Youden);
        Assert.Equal(one.Thresholds, two.Thresholds);
        Assert.NotEqual(one.Areas, RocBootstrap.Of(Cases, Controls, 500, 8).Areas);
    }

    [Fact]
    public void Counted_resamples_give_the_area_and_index_of_the_curve_itself()
    {
        // Every child drawn is one of a single value a group: the resample is the sample.
        var fixedCases = Enumerable.Repeat(3.0, 20).ToArray();
        var fixedControls = Enumerable.Repeat(1.0, 30).ToArray();
        var resamples = RocBootstrap.Of(fixedCases, fixedControls, 3, 1);
        Assert.Equal([1.0, 1.0, 1.0], resamples.Areas);
        Assert.Equal([2.0, 2.0, 2.0], resamples.Thresholds);
        var error = Descriptive.StandardDeviation(RocBootstrap.Of(Cases, Controls, 4000, 3).Areas);
        Assert.Equal(Math.Sqrt(RocCurve.Of(Cases, Controls).DeLongVariance!.Value), error, 0.006);
    }

    /// <summary>The rank form of DeLong's variance against its definition over all pairs.</summary>
    [Fact]
    public void DeLong_equals_its_definition_over_all_pairs()
    {
        static double Win(double a, double b) =>
            a > b ? 1
            : a == b ? 0.5
            : 0;
        var v10 = Cases.Select(c => Controls.Average(d => Win(c, d))).ToArray();
        var v01 = Controls.Select(d => Cases.Average(c => Win(c, d))).ToArray();
        var curve = RocCurve.Of(Cases, Controls);
        Assert.Equal(v10.Average(), curve.Area, 1e-14);
        Assert.Equal(
            (Descriptive.Variance(v10) / v10.Length) + (Descriptive.Variance(v01) / v01.Length),
            curve.DeLongVariance!.Value,
            1e-15
        );
    }

    /// <summary>For a complete table with positive components REML equals the mean squares.</summary>
    [Fact]
    public void Restricted_likelihood_equals_mean_squares_on_complete_tables()
    {
        double[][] table =
        [
            [9, 2, 5, 8],
            [6, 1, 3, 2],
            [8, 4, 6, 8],
            [7, 1, 2, 6],
            [10, 5, 6, 9],
            [6, 2, 4, 7],
        ];
        var ratings = RatingMatrix.FromRows(table);
        var anova = IntraclassCorrelation.Anova(ratings);
        var reml = CrossedVariance.Of(ratings);
        Assert.Equal(anova.TargetVariance, reml.Subject, 1e-5);
        Assert.Equal(anova.JudgeVariance, reml.Rater, 1e-5);
        Assert.Equal(anova.MeanError, reml.Residual, 1e-5);
    }
}
