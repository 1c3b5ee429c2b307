using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Emit.Reports;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Language;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Emit.Tests.Reports;

/// <summary>
/// Whatever an author writes: what is for the team, or for the team alone, is an error in a letter, and what compiles prints letters
/// without it. Secrets are words that stand in such texts alone.
/// </summary>
public class TeamOnlyTests
{
    private static readonly string[] Audiences = ["caregiver", "team", "team-only"];

    /// <summary>A random set of passages, letters and notes, some of them wrong.</summary>
    private static readonly Arbitrary<string> Texts = (
        from passages in Passage.ArrayOf(3)
        from letter in Paragraph("letter").ArrayOf(3)
        from note in Paragraph("note").ArrayOf(3)
        select string.Concat(passages.Select((p, i) => $"passage p{i} {p}\n  \"{Word(p)} in a passage.\"\n"))
            + $"letter caregiver\n{string.Concat(letter)}"
            + $"note team\n{string.Concat(note)}"
    ).ToArbitrary();

    private static Gen<string> Passage => Gen.Elements(Audiences);

    [Property(MaxTest = 300)]
    public Property What_is_for_the_team_never_reaches_a_letter() =>
        Prop.ForAll(
            Texts,
            texts =>
            {
                var compilation = Compile(texts);
                if (compilation.Protocol is not { } protocol)
                {
                    // Refused for this reason and no other.
                    return compilation.Diagnostics.Any(d => d.Code is "PK5060" or "PK5061");
                }

                var scored = Scorer.Score(protocol, Record(protocol));
                var letter = LetterPage
                    .Render(Letters.Of(scored, "Ada"), OutputOptions.Default, TemplateSource.BuiltIn)
                    .Text;
                var note = TeamNotePage
                    .Render(TeamNotes.Of(scored), OutputOptions.Default, TemplateSource.BuiltIn)
                    .Text;
                return !letter.Contains("SECRET", StringComparison.Ordinal)
                    && !note.Contains("SECRETTEAMONLY", StringComparison.Ordinal);
            }
        );

    [Fact]
    public void The_property_meets_both_what_compiles_and_what_is_refused()
    {
        var compiled = Texts.Generator.Sample(200).Select(t => Compile(t).Protocol is not null).ToList();
        Assert.True(compiled.Count(c => c) > 10, "hardly any text compiled");
        Assert.True(compiled.Count(c => !c) > 10, "hardly any text was refused");
    }

    [Theory]
    [InlineData("letter caregiver\n  team-only \"SECRET\"\n")]
    [InlineData("letter team-only\n  \"SECRET\"\n")]
    [InlineData("passage p0 team-only\n  \"SECRET\"\nletter caregiver\n  \"{p0}\"\n")]
    [InlineData("passage p0 team\n  \"SECRET\"\nletter caregiver\n  \"We say: {p0}\"\n")]
    [InlineData("letter caregiver\n  \"{scores in words otherwise none}\"\n")]
    public void It_is_an_error_of_compiling(string texts) => Assert.Null(Compile(texts).Protocol);

    [Fact]
    public void The_note_handed_on_leaves_out_what_is_for_the_team_alone_and_the_other_says_so()
    {
        var protocol = Compile("note team\n  \"For the team.\"\n  team-only \"SECRETTEAMONLY\"\n").Protocol!;
        var scored = Scorer.Score(protocol, Record(protocol));
        var handedOn = Note(TeamNotes.Of(scored));
        var kept = Note(TeamNotes.Of(scored, forTeamAlone: true));
        Assert.DoesNotContain("SECRETTEAMONLY", handedOn, StringComparison.Ordinal);
        Assert.Contains("For the team.", handedOn, StringComparison.Ordinal);
        Assert.Contains("<b>For the team alone.</b> SECRETTEAMONLY", kept, StringComparison.Ordinal);
        Assert.Contains("Team note, for the team alone", kept, StringComparison.Ordinal);
    }

    private static string Note(TeamNote note) =>
        TeamNotePage.Render(note, OutputOptions.Default, TemplateSource.BuiltIn).Text;

    private static string Word(string audience) =>
        audience switch
        {
            "caregiver" => "open",
            "team" => "SECRETTEAM",
            _ => "SECRETTEAMONLY",
        };

    private static Gen<string> Paragraph(string kind) =>
        from audience in Gen.Frequency((6, Gen.Constant("")), (1, Gen.Elements(Audiences)))
        from passage in Gen.Frequency((2, Gen.Constant(-1)), (1, Gen.Choose(0, 2)))
        from inside in Gen.Elements(true, false)
        let word = Word(
            audience.Length > 0 ? audience
            : kind == "letter" ? "caregiver"
            : "team"
        )
        select $"  {(audience.Length > 0 ? audience + " " : "")}\""
            + (
                passage < 0 ? $"Here stands {word}."
                : inside ? $"We say {{p{passage}}} here."
                : $"{{p{passage}}}"
            )
            + "\"\n";

    private static Compilation Compile(string texts) =>
        Compilation.Of(
            new SourceText(
                "tiny.protocol",
                "protocol tiny\n  title \"Tiny\"\n  edition 1.0\n  ages 4;0 to 5;11\n"
                    + "scale three, higher is better\n  2 \"Full.\"\n  1 \"Part.\"\n  0 \"None.\"\n"
                    + "section lips \"Lips\"\n  task kiss \"Kiss\"\n    say \"Kiss.\"\n    rate three\n"
                    + "score lips-total \"Lips\"\n  add up rate of every task in lips\n"
                    + texts
            ),
            new NoModules()
        );

    private static SittingRecord Record(Protocol protocol)
    {
        var reading = RecordReader.Read(
            "protocol: tiny\nedition: \"1.0\"\ncase: QC-1\nage-months: 50\nparts:\n  - seen: 2026-03-04\nform: full\nrater: SLP-1\nanswers:\n  kiss.rate: 2\n",
            "tiny",
            protocol,
            new RecordOptions()
        );
        return reading.Record ?? throw new InvalidOperationException(string.Join("\n", reading.Problems));
    }
}
