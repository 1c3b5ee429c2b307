using System.Text.Json.Nodes;
using ProtocolKit.Emit.Code.Fhir;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Verification.Tests.Fhir;

/// <summary>The emitted FHIR R4 questionnaire: mistakes put into it are found, and what it must say is there.</summary>
public class QuestionnaireTests
{
    [Theory]
    [InlineData("fhir-firely", "iif($this < $total", "iif($this > $total", "line ")]
    [InlineData("fhir-firely", "%kissLow + %cornersLow", "%kissLow + 0 * %cornersLow", "line total.low")]
    [InlineData("fhir-firely", "'applies not', 'undecided'", "'applies not', 'applies'", "action ")]
    [InlineData("fhir-npm", "iif($this = '1', 1,", "iif($this = '1', 2,", "")]
    public void A_mistake_in_it_is_found(string target, string right, string wrong, string what)
    {
        var changed = false;
        var report = Verifier.Run(
            SampleScreen.Protocol(),
            new VerifyOptions
            {
                Records = 20,
                MostAtEdges = 60,
                Targets = [target],
                Programs = NpmModules.Programs,
                Questionnaire = Changed,
            }
        );

        Assert.True(changed, "the text to change is not in the questionnaire");
        if (Environment.GetEnvironmentVariable("CI") != "true" && report.Targets.Any(t => t.IsMissing))
        {
            return;
        }

        Assert.True(report.AnyDiffers, VerifyText.Write(report));
        Assert.StartsWith(what, report.Targets[0].Difference!.What, StringComparison.Ordinal);

        string Changed(string text)
        {
            changed |= text.Contains(right, StringComparison.Ordinal);
            return text.Replace(right, wrong, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void It_names_the_edition_and_the_fingerprints_and_each_line_says_its_limits()
    {
        var protocol = SampleScreen.Protocol();
        var form = JsonNode.Parse(FhirOutput.Text(protocol))!;

        Assert.Equal(protocol.Edition, (string?)form["version"]);
        Assert.Equal(
            [
                protocol.Fingerprints.Form,
                protocol.Fingerprints.Administration,
                protocol.Fingerprints.Interpretation,
            ],
            form["identifier"]!.AsArray().Select(i => (string)i!["value"]!)
        );
        var about = form["extension"]!
            .AsArray()
            .Select(e => (string)e!["valueExpression"]!["description"]!)
            .ToHashSet(StringComparer.Ordinal);
        foreach (var line in protocol.Program.Lines.Where(l => l.Value is not null))
        {
            var limits = FormattableString.Invariant($"{line.Name}: {line.Low}..{line.High}");
            Assert.Contains(about, a => a.StartsWith(limits, StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Until_an_answer_is_given_there_is_no_result_and_the_missing_answers_are_named()
    {
        var protocol = SampleScreen.Protocol();
        var form = JsonNode.Parse(FhirOutput.Text(protocol))!.AsObject();
        var empty = FhirResponse.Of(form, _ => null);

        Assert.Null(empty["item"]);
        var needed = form["item"]!
            .AsArray()
            .SelectMany(g => g!["item"]?.AsArray() ?? [])
            .Count(i => i!["required"]?.GetValue<bool>() == true);
        Assert.True(needed > 3);
        var results = form["item"]!.AsArray().Single(g => (string?)g!["linkId"] == "results")![
            "item"
        ]!.AsArray();
        Assert.All(
            results.Where(r => (string?)r!["type"] != "display" && (string?)r["linkId"] != "results/errors"),
            r =>
                Assert.Contains(
                    ".empty(), ",
                    (string)r!["extension"]!.AsArray()[^1]!["valueExpression"]!["expression"]!,
                    StringComparison.Ordinal
                )
        );
    }

    [Fact]
    public void A_program_beyond_2_to_the_31_is_refused_by_name()
    {
        var program = SampleScreen.Protocol();
        var line = new ProgramLine("far", new Constant(1L << 31), null, "");
        var beyond = program with
        {
            Program = program.Program with { Lines = [.. program.Program.Lines, line] },
        };

        var refused = Assert.Throws<Emit.OutputRefusedException>(() => FhirOutput.Text(beyond));
        Assert.Contains("far may grow beyond 2^31", refused.Message, StringComparison.Ordinal);
    }
}
