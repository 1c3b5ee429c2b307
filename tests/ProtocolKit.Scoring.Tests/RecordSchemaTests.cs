using System.Text.Json.Nodes;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Json.Schema;
using ProtocolKit.Emit.Schema;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>
/// The emitted schema against records, judged by an independent validator (JsonSchema.Net, draft 2020-12): what the
/// reader takes the schema allows, and the slips a schema can see it refuses as the reader does.
/// </summary>
public class RecordSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(RecordSchema.Write(Tiny.Protocol));

    private static readonly string Short =
        Records
            .Good[..Records.Good.IndexOf("answers:", StringComparison.Ordinal)]
            .Replace("form: full", "form: short", StringComparison.Ordinal)
            .Replace("edition: 1.0", "edition: \"1.0\"", StringComparison.Ordinal)
        + "answers:\n  tip-nose.rate.trial-1: 2\n  tip-corner.rate.right: 2\n  tip-corner.rate.left: 1\n";

    private static readonly string Good = Records.With("edition: 1.0", "edition: \"1.0\"");

    [Fact]
    public void The_schema_is_one_of_draft_2020_12()
    {
        var text = RecordSchema.Write(Tiny.Protocol);
        Assert.Equal(RecordSchema.Draft, JsonNode.Parse(text)!["$schema"]!.GetValue<string>());
        Assert.True(MetaSchemas.Draft202012.Evaluate(JsonNode.Parse(text)).IsValid);
        Assert.Equal(text, RecordSchema.Write(Tiny.Protocol));
        Assert.DoesNotContain('\r', text);
    }

    public static TheoryData<string, string> GoodRecords() =>
        new()
        {
            { "full", Good },
            { "short", Short },
            {
                "not-planned outside the short form",
                Short + "  tip-chin.rate: not-planned\n  nods.nodded:\n"
            },
            {
                "untried",
                Good.Replace("tip-chin.rate: 2", "tip-chin.rate: refused", StringComparison.Ordinal)
            },
            {
                "a second trial not needed",
                Good.Replace(
                    "trial-1: 1\n  tip-nose.rate.trial-2: 2",
                    "trial-1: 2\n  tip-nose.rate.trial-2:",
                    StringComparison.Ordinal
                )
            },
            {
                "no second trial after an untried first",
                Good.Replace(
                    "trial-1: 1\n  tip-nose.rate.trial-2: 2",
                    "trial-1: spoiled",
                    StringComparison.Ordinal
                )
            },
            { "born", Good.Replace("age-months: 51", "born: 2021-11-30", StringComparison.Ordinal) },
            { "a case of digits", Good.Replace("case: QC-0417", "case: 417", StringComparison.Ordinal) },
            {
                "everything beside",
                Good
                    + "help:\n  tip-nose: said again\nobservations:\n  tip-nose.overflow: looked\nconsents:\n  exam: no\nhistory:\n  worry: Much.\n  braces: yes\nnotes:\n  tip-corner.left: Slow.\noverrides:\n  - action: no-action\n    reason: x\n    role: y\ncorrections:\n  - who: S-1\n    when: 2026-03-05\n    why: slip\n    key: tip-chin.rate\n    old: 2\n    new: 1\nevents:\n  - what: gag\n    task: nods\n"
            },
            {
                "a rater with more than a code",
                Good.Replace(
                    "rater: SLP-02",
                    "rater:\n  code: SLP-02\n  role: student\n  trained-until: 2027-01-31\n  rated: recorded\n  blind: yes",
                    StringComparison.Ordinal
                )
            },
            {
                "a sitting of two parts",
                Good.Replace("nods.nodded: yes", "nods.nodded: out-of-time", StringComparison.Ordinal)
                    .Replace(
                        "  - seen: 2026-03-04\n",
                        "  - seen: 2026-03-04\n  - seen: 2026-03-11\n    answers:\n      nods.nodded: yes\n",
                        StringComparison.Ordinal
                    )
            },
            {
                "an agreed record",
                Good
                    + "agreed-from:\n  - rater: R1\n    digest: 0123456789abcdef\n  - rater: R2\n    digest: 0123456789abcdee\n"
            },
            { "seconds of tasks", Good + "task-seconds:\n  tip-nose: 31\n  nods: 0\n" },
            { "a child born before term", Good + "gestation-weeks: 34\n" },
        };

    public static TheoryData<string, string> BadRecords() =>
        new()
        {
            { "a child's name", "name: Somebody\n" + Good },
            { "a case that is a name", Good.Replace("QC-0417", "Somebody", StringComparison.Ordinal) },
            { "a rater that is a name", Good.Replace("SLP-02", "Some Body 2", StringComparison.Ordinal) },
            { "off its step", Good.Replace("trial-1: 6.0", "trial-1: 3.45", StringComparison.Ordinal) },
            { "out of its bounds", Good.Replace("trial-1: 20", "trial-1: 61", StringComparison.Ordinal) },
            { "half a count", Good.Replace("trial-1: 20", "trial-1: 20.5", StringComparison.Ordinal) },
            { "no level", Good.Replace("tip-chin.rate: 2", "tip-chin.rate: 3", StringComparison.Ordinal) },
            { "no option", Good.Replace("as-shown", "shown", StringComparison.Ordinal) },
            { "no code", Good.Replace("tip-chin.rate: 2", "tip-chin.rate: tired", StringComparison.Ordinal) },
            { "an unknown task", Good.Replace("tip-chin.rate", "tip-chn.rate", StringComparison.Ordinal) },
            { "a missing answer", Good.Replace("  tip-chin.rate: 2\n", "", StringComparison.Ordinal) },
            {
                "a blank answer",
                Good.Replace("tip-chin.rate: 2", "tip-chin.rate:", StringComparison.Ordinal)
            },
            {
                "a missing second trial",
                Good.Replace("  tip-nose.rate.trial-2: 2\n", "", StringComparison.Ordinal)
            },
            {
                "a blank second trial",
                Good.Replace("tip-nose.rate.trial-2: 2", "tip-nose.rate.trial-2:", StringComparison.Ordinal)
            },
            { "an answer outside the short form", Short + "  tip-chin.rate: 2\n" },
            {
                "a missing answer of the short form",
                Short.Replace("  tip-corner.rate.left: 1\n", "", StringComparison.Ordinal)
            },
            { "another protocol", Good.Replace("tiny-screen", "other", StringComparison.Ordinal) },
            {
                "another edition",
                Good.Replace("edition: \"1.0\"", "edition: \"1.1\"", StringComparison.Ordinal)
                    .Replace("form: 00000000000000aa", "form: 1", StringComparison.Ordinal)
            },
            { "another form", Good.Replace("form: 00000000000000aa", "form: 1", StringComparison.Ordinal) },
            {
                "both ages",
                Good.Replace("age-months: 51", "age-months: 51\nborn: 2021-11-30", StringComparison.Ordinal)
            },
            { "no age", Good.Replace("age-months: 51\n", "", StringComparison.Ordinal) },
            { "no day", Good.Replace("2026-03-04", "March", StringComparison.Ordinal) },
            {
                "no part",
                Good.Replace("parts:\n  - seen: 2026-03-04\n", "parts: []\n", StringComparison.Ordinal)
            },
            { "no form", Good.Replace("form: full\n", "", StringComparison.Ordinal) },
            { "an unknown observation", Good + "observations:\n  tip-nose.drool: seen\n" },
            { "an observation that is neither", Good + "observations:\n  tip-nose.overflow: yes\n" },
            { "help a task does not offer", Good + "help:\n  tip-nose: a hug\n" },
            {
                "a name in a part",
                Good.Replace(
                    "  - seen: 2026-03-04",
                    "  - seen: 2026-03-04\n    child: Somebody",
                    StringComparison.Ordinal
                )
            },
            { "seconds of no task", Good + "task-seconds:\n  nobody: 31\n" },
            { "a text for seconds", Good + "task-seconds:\n  tip-nose: long\n" },
            { "half a second", Good + "task-seconds:\n  tip-nose: 3.5\n" },
            { "seconds beyond an hour", Good + "task-seconds:\n  tip-nose: 3601\n" },
            { "an unknown action", Good + "overrides:\n  - action: wait\n    reason: x\n    role: y\n" },
        };

    [Theory]
    [MemberData(nameof(GoodRecords))]
    public void A_good_record_is_allowed_and_read(string what, string text)
    {
        Assert.NotNull(Records.Sitting(text));
        Assert.True(Allows(text), what);
    }

    [Theory]
    [MemberData(nameof(BadRecords))]
    public void A_bad_record_is_refused_by_both(string what, string text)
    {
        Assert.Null(Records.Read(text).Record);
        Assert.False(Allows(text), what);
    }

    [Property(MaxTest = 200)]
    public Property Every_written_record_is_allowed() =>
        Prop.ForAll(
            RecordWriterTests.Sittings().ToArbitrary(),
            record => Assert.True(Allows(RecordWriter.Write(Tiny.Protocol, record)))
        );

    private static bool Allows(string text)
    {
        var tree = TreeReader.Read(text, new ProblemList("record.yaml"))!;
        return Schema.Evaluate(Convert(tree)).IsValid;
    }

    /// <summary>As a YAML 1.2 library turns the text into JSON: unquoted numbers are numbers, nothing is null.</summary>
    private static JsonNode? Convert(Node node) =>
        node switch
        {
            MapNode map => new JsonObject(
                map.Entries.Select(e => KeyValuePair.Create(e.Key, Convert(e.Value)))
            ),
            ListNode list => new JsonArray([.. list.Items.Select(Convert)]),
            TextNode { IsBlank: true } => null,
            TextNode { IsQuoted: false } text
                when Rational.TryParse(text.Text, out _)
                    && !(text.Text.Length > 1 && text.Text[0] == '0' && text.Text[1] != '.') =>
                JsonNode.Parse(text.Text),
            TextNode text => text.Text,
            _ => throw new InvalidOperationException(),
        };
}
