using System.Text.Json;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>The forms for other programs: JSON in its documented shape, CSV with a row a record.</summary>
public class ExplanationFormatTests
{
    [Fact]
    public void Json_has_its_documented_shape()
    {
        var text = Records.With(
            "tip-chin.rate: 2\n  tip-corner.rate.right: 2",
            "tip-chin.rate: refused\n  tip-corner.rate.right: refused"
        );
        using var json = JsonDocument.Parse(ExplanationJson.Write(Explain(text)));
        var root = json.RootElement;
        Assert.Equal("QC-0417", root.GetProperty("case").GetString());
        Assert.Equal(51, root.GetProperty("ageMonths").GetInt32());
        Assert.Equal("complete", root.GetProperty("headline").GetProperty("action").GetString());
        var tongue = root.GetProperty("outcomes")[0];
        Assert.Equal(
            "{\"name\":\"tongue-total\",\"title\":\"Tongue\",\"kind\":\"score\",\"state\":\"known\",\"low\":3,\"high\":7,"
                + "\"untried\":[{\"key\":\"tip-chin.rate\",\"state\":\"refused\"},{\"key\":\"tip-corner.rate.right\",\"state\":\"refused\"}],"
                + "\"cutOffs\":{\"state\":\"undecided\",\"ages\":\"4;0 to 5;11\",\"basis\":\"provisional\",\"provisional\":true},\"text\":\"…\"}",
            Flat(tongue)
        );
        Assert.Equal(
            "{\"name\":\"pa-rate\",\"title\":\"Pa rate\",\"kind\":\"measure\",\"state\":\"known\",\"low\":3.8,\"high\":3.8,\"unit\":\"syllables/s\","
                + "\"untried\":[],\"cutOffs\":{\"state\":\"known\",\"band\":\"as-expected\",\"ages\":\"4;0 to 11;11\",\"basis\":\"provisional\",\"provisional\":true},\"text\":\"…\"}",
            Flat(root.GetProperty("outcomes")[1])
        );
        Assert.Equal(
            ["undecided", "applies", "undecided", "applies-not"],
            root.GetProperty("actions").EnumerateArray().Select(a => a.GetProperty("decision").GetString())
        );

        static string Flat(JsonElement element) =>
            System.Text.RegularExpressions.Regex.Replace(
                JsonSerializer.Serialize(element),
                "\"text\":\"[^}]*\"}$",
                "\"text\":\"…\"}"
            );
    }

    [Fact]
    public void A_table_has_a_row_a_record()
    {
        Assert.Equal(
            "case,age-months,seen,form,tongue-total,tongue-total.low,tongue-total.high,tongue-total.state,tongue-total.band,"
                + "pa-rate,pa-rate.low,pa-rate.high,pa-rate.state,pa-rate.band,full-assessment,complete,screen-again,no-action,headline,override,remarks\n",
            ResultTable.Header(Tiny.Protocol)
        );
        Assert.Equal(
            "QC-0417,51,2026-03-04,full,,3,7,known,undecided,3.8,3.8,3.8,known,as-expected,undecided,applies,undecided,applies-not,complete,,0\n",
            ResultTable.Row(
                Score(
                    Records.With(
                        "tip-chin.rate: 2\n  tip-corner.rate.right: 2",
                        "tip-chin.rate: refused\n  tip-corner.rate.right: refused"
                    )
                )
            )
        );
    }

    [Theory]
    [InlineData("</script>")]
    [InlineData("{{ x }}")]
    [InlineData("\"quoted\" \\ and ; , ' \n new line")]
    public void Hostile_texts_stay_texts(string text)
    {
        var record = Records.Sitting(Records.Good) with
        {
            Notes = new Dictionary<string, string> { ["nods"] = text },
            Override = new Override("no-action", text, text),
        };
        var explanation = Explanation.Of(Scorer.Score(Tiny.Protocol, record));
        using var json = JsonDocument.Parse(ExplanationJson.Write(explanation));
        Assert.Equal(text, json.RootElement.GetProperty("override").GetProperty("reason").GetString());
        Assert.DoesNotContain("</script>", ExplanationJson.Write(explanation), StringComparison.Ordinal);
    }

    private static ScoredRecord Score(string text) => Scorer.Score(Tiny.Protocol, Records.Sitting(text));

    private static Explanation Explain(string text) => Explanation.Of(Score(text));
}
