using System.IO.Compression;
using System.Text;
using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;
using ProtocolKit.Verification.Tests.Fhir;

namespace ProtocolKit.Verification.Tests;

/// <summary>
/// Every target in its real engine: on a screen with every kind of answer, with hostile texts everywhere, and with
/// a mistake put into its code. On a build server a program that isn't installed fails here.
/// </summary>
public class EveryTargetTests
{
    public static TheoryData<string> Names { get; } = [.. Verifier.TargetNames];

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_target_agrees_on_every_kind_of_answer_whatever_the_texts(string target)
    {
        var everything = HostileTextTests.AllAtOnce + "=cmd|' /C calc'!A0 '; DROP TABLE records; --";
        var report = Verifier.Run(
            HostileTextTests.Everywhere(everything),
            new VerifyOptions
            {
                Records = 60,
                MostAtEdges = 120,
                Targets = [target],
                Programs = NpmModules.Programs,
            }
        );

        AssertAgreed(report);
    }

    [Theory]
    [InlineData("r", "kiss__low + corners__low", "kiss__low + pmin(3, corners__low)", "line total.low")]
    [InlineData("r", "code[is.na(code)] <- 0", "code[is.na(code)] <- 0; code[code == 8] <- 7", "")]
    [InlineData("r", "state >= 2, word", "state >= 3, word", "reasons")]
    [InlineData(
        "sql-duckdb",
        "\"kiss.low\" + \"corners.low\"",
        "\"kiss.low\" + least(3, \"corners.low\")",
        ""
    )]
    [InlineData("sql-duckdb", "when 3 then 'undecided'", "when 3 then 'blocked'", "")]
    [InlineData(
        "sql-postgresql",
        "then 'applies not' else 'undecided'",
        "then 'undecided' else 'undecided'",
        ""
    )]
    [InlineData("sql-clickhouse", "'looked' then toInt64(1)", "'looked' then toInt64(2)", "")]
    public void A_mistake_in_emitted_code_is_found(string target, string right, string wrong, string what)
    {
        var screen = SampleScreen.Protocol();
        var changed = false;
        var report = Verifier.Run(
            screen,
            new VerifyOptions
            {
                Records = 100,
                MostAtEdges = 200,
                Targets = [target],
                Code = Changed,
            }
        );

        if (IsMissing(report))
        {
            return;
        }

        Assert.True(changed, "the text to change is not in the code");
        Assert.True(report.AnyDiffers, VerifyText.Write(report));
        Assert.StartsWith(what, report.Targets[0].Difference!.What, StringComparison.Ordinal);

        string Changed(CodeOutput output)
        {
            var code = output.Text(screen, TemplateSource.BuiltIn);
            changed |= code.Contains(right, StringComparison.Ordinal);
            return code.Replace(right, wrong, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_mistake_in_a_formula_of_the_workbook_is_found()
    {
        var changed = false;
        var report = Verifier.Run(
            SampleScreen.Protocol(),
            new VerifyOptions
            {
                Records = 20,
                MostAtEdges = 60,
                Targets = ["workbook"],
                Workbook = b => Rewritten(b, "MIN(", "MAX(", out changed),
            }
        );

        if (IsMissing(report))
        {
            return;
        }

        Assert.True(changed);
        Assert.True(report.AnyDiffers, VerifyText.Write(report));
    }

    [Theory]
    [InlineData("python", "python3")]
    [InlineData("r", "Rscript")]
    [InlineData("sql-postgresql", "initdb")]
    [InlineData("sql-clickhouse", "clickhouse-server")]
    [InlineData("workbook", "soffice")]
    [InlineData("fhir-npm", "node")]
    [InlineData("fhir-npm", "fhirpath")]
    public void Without_its_program_a_target_is_not_run_and_never_agrees(string target, string program)
    {
        var options = new VerifyOptions
        {
            Records = 5,
            Targets = [target, "csharp"],
            Programs = new Dictionary<string, string> { [program] = "no-such-program-here" },
        };
        var report = Verifier.Run(SampleScreen.Protocol(), options);

        var missing = report.Targets.Single(t => t.Target == target);
        Assert.Equal((Agreement.NotRun, true), (missing.Agreement, missing.IsMissing));
        Assert.True(report.NothingWrong);
        Assert.False((report with { MissingIsWrong = true }).NothingWrong);
    }

    private static byte[] Rewritten(byte[] book, string right, string wrong, out bool changed)
    {
        changed = false;
        using var stream = new MemoryStream();
        stream.Write(book);
        using (var zip = new ZipArchive(stream, ZipArchiveMode.Update, leaveOpen: true))
        {
            foreach (
                var entry in zip
                    .Entries.Where(e => e.FullName.Contains("sheet", StringComparison.Ordinal))
                    .ToList()
            )
            {
                string text;
                using (var reader = new StreamReader(entry.Open()))
                {
                    text = reader.ReadToEnd();
                }

                if (text.Contains(right, StringComparison.Ordinal))
                {
                    changed = true;
                    using var sink = entry.Open();
                    sink.SetLength(0);
                    sink.Write(Encoding.UTF8.GetBytes(text.Replace(right, wrong, StringComparison.Ordinal)));
                }
            }
        }

        return stream.ToArray();
    }

    /// <summary>Where a program isn't installed nothing can be found; a build server has them all.</summary>
    private static bool IsMissing(VerifyReport report)
    {
        var isMissing = report.Targets.Any(t => t.IsMissing);
        Assert.False(
            isMissing && Environment.GetEnvironmentVariable("CI") == "true",
            VerifyText.Write(report)
        );
        return isMissing;
    }

    private static void AssertAgreed(VerifyReport report) =>
        Assert.True(IsMissing(report) || report.AllAgreed, VerifyText.Write(report));
}
