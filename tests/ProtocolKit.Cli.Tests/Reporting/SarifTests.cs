using System.Text.Json.Nodes;
using NJsonSchema;

namespace ProtocolKit.Cli.Tests.Reporting;

/// <summary>The log of <c>check --format sarif</c> against the schema of SARIF 2.1.0, for every text of the corpus.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed class SarifTests : IDisposable
{
    private readonly Sandbox _sandbox = new();

    public void Dispose() => _sandbox.Dispose();

    [Fact]
    public async Task Every_log_of_the_corpus_keeps_the_schema()
    {
        var schema = await Schema();
        var log = Log(CorpusFiles.Copy());
        Assert.Empty(schema.Validate(log.ToJsonString()).Select(e => e.ToString()));
        Assert.InRange(Results(log).Count, 150, 100_000);
    }

    [Fact]
    public async Task The_schema_is_one_that_can_fail()
    {
        var schema = await Schema();
        var log = Log([Sandbox.Write("a.protocol", "taks a\n")]);
        log["runs"]![0]!["results"]![0]!["level"] = "dreadful";
        Assert.NotEmpty(schema.Validate(log.ToJsonString()));
    }

    [Fact]
    public void A_finding_names_its_rule_and_its_place()
    {
        var log = Log([Sandbox.Write("sub folder/a b.protocol", "protocol tiny\n  titel \"T\"\n")]);
        var result = Results(log).Single(r => (string?)r!["ruleId"] == "PK2001")!;
        var rule = log["runs"]![0]!["tool"]!["driver"]!["rules"]![(int)result["ruleIndex"]!]!;
        Assert.Equal("PK2001", (string?)rule["id"]);
        Assert.Contains("task a item(three)", (string?)rule["help"]!["text"], StringComparison.Ordinal);
        var location = result["locations"]![0]!["physicalLocation"]!;
        Assert.Equal("sub%20folder/a%20b.protocol", (string?)location["artifactLocation"]!["uri"]);
        Assert.Equal((2, 3, 2, 8), Region(location["region"]!));
        var replacement = result["fixes"]![0]!["artifactChanges"]![0]!["replacements"]![0]!;
        Assert.Equal((2, 3, 2, 8), Region(replacement["deletedRegion"]!));
        Assert.Equal("title", (string?)replacement["insertedContent"]!["text"]);
    }

    /// <summary>A picture of two UTF-16 characters stands before the mistake: an editor counts both.</summary>
    [Fact]
    public void Columns_count_UTF16_characters()
    {
        var log = Log([Sandbox.Write("a.protocol", "section s \"\U0001F600\" extra\n")]);
        Assert.Equal("utf16CodeUnits", (string?)log["runs"]![0]!["columnKind"]);
        var result = Results(log).Single(r => (string?)r!["ruleId"] == "PK2005")!;
        var region = result["locations"]![0]!["physicalLocation"]!["region"]!;
        Assert.Equal((1, 16, 1, 21), Region(region));
    }

    [Fact]
    public void A_clash_shows_the_other_place_and_its_file()
    {
        Sandbox.Write("other.protocol", "module other\nmaterial light \"Light\"\n");
        var log = Log([
            Sandbox.Write(
                "a.protocol",
                "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\nuse other\nmaterial light \"Lamp\"\n"
            ),
        ]);
        var clash = Results(log).Single(r => (string?)r!["ruleId"] == "PK3002")!;
        var other = clash["relatedLocations"]![0]!;
        var uris = new[] { other, clash["locations"]![0]! }.Select(l =>
            (string?)l["physicalLocation"]!["artifactLocation"]!["uri"]
        );
        Assert.Equal(["a.protocol", "other.protocol"], uris.Order(StringComparer.Ordinal));
        Assert.NotEmpty((string?)other["message"]!["text"] ?? "");
    }

    [Fact]
    public void Braces_in_a_message_are_doubled_as_the_standard_asks()
    {
        var log = Log([
            Sandbox.Write(
                "a.protocol",
                "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\nletter caregiver\n  \"{nobody}\"\n"
            ),
        ]);
        var texts = Results(log).Select(r => (string?)r!["message"]!["text"]);
        Assert.Contains(texts, t => t!.Contains("{{nobody}}", StringComparison.Ordinal));
    }

    private static (int, int, int, int) Region(JsonNode region) =>
        (
            (int)region["startLine"]!,
            (int)region["startColumn"]!,
            (int)region["endLine"]!,
            (int)region["endColumn"]!
        );

    private static JsonArray Results(JsonNode log) => log["runs"]![0]!["results"]!.AsArray();

    private static JsonNode Log(IEnumerable<string> files) =>
        JsonNode.Parse(Sandbox.Run(["check", "--format", "sarif", .. files]).Output)!;

    private static Task<JsonSchema> Schema() =>
        JsonSchema.FromFileAsync(
            Path.Combine(Sandbox.Root, "tests", "ProtocolKit.Cli.Tests", "Schemas", "sarif-2.1.0-rtm.5.json")
        );
}
