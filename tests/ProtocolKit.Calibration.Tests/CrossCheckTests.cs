using System.Text.Json.Nodes;
using ProtocolKit.Cases;

namespace ProtocolKit.Calibration.Tests;

/// <summary>
/// Random data answered by R and its packages, SciPy and statsmodels beforehand; each file says by which. They hold layouts,
/// levels and options that the published checks don't: own weights, gaps, nested designs, other confidence levels.
/// </summary>
public class CrossCheckTests
{
    public static TheoryData<string> Ids =>
        [
            .. Directory
                .GetFiles(Folder, "*.json")
                .Select(f => Path.GetFileNameWithoutExtension(f))
                .Order(StringComparer.Ordinal),
        ];

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "CrossChecks");

    [Theory]
    [MemberData(nameof(Ids))]
    public void Figures_of_other_programs_are_met(string id)
    {
        var text = File.ReadAllText(Path.Combine(Folder, id + ".json"));
        var check = JsonNode.Parse(text)!.AsObject();
        var answer = Answering.Answer(text);
        Assert.Null(answer["error"]);
        Assert.Null(answer["options_not_used"]);
        Assert.Empty(
            Comparison.Differences(
                check["expected_recomputed"],
                answer["expected_recomputed"],
                "",
                (double)check["tolerance"]!
            )
        );
    }
}
