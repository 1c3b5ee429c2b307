using System.Diagnostics;
using System.Globalization;
using System.Text;
using DuckDB.NET.Data;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Code.R;
using ProtocolKit.Emit.Code.Sql;
using ProtocolKit.Emit.Code.Workbook;

namespace ProtocolKit.Emit.Tests.Code;

/// <summary>Hostile texts as literals, read back by the language itself.</summary>
public class LiteralTests
{
    private static readonly string[] Pieces =
    [
        "'",
        "\"",
        "\\",
        "\n",
        "\r\n",
        "\t",
        "*/",
        "/*",
        "--",
        "#",
        "</script>",
        "=cmd|' /C calc'!A0",
        "'; DROP TABLE records; --",
        "\u202E",
        "\u2066",
        "\u2028",
        "\0",
        "\u0085",
        "é",
        "\U0001F600",
        "\uD800",
        "${x}",
        "{{ x }}",
        "%s",
        "\\u0041",
        "_x0041_",
        "E'",
        "$$",
        "plain words",
    ];

    /// <summary>Half a character can't leave a program, and the character 0 not stand in a text: both are shown.</summary>
    private static string Shown(string text) =>
        string.Concat(text.EnumerateRunes().Select(r => r.Value == 0 ? "\uFFFD" : r.ToString()));

    private static Arbitrary<string[]> Texts =>
        Arb.From(
            Gen.Elements(Pieces)
                .ListOf(12)
                .Select(p => string.Concat(p))
                .ListOf(40)
                .Select(t => t.Append(new string('\'', 65_536)).Append("").ToArray())
        );

    [Property(MaxTest = 3)]
    public Property Python_reads_back_every_text() =>
        Prop.ForAll(
            Texts,
            texts =>
            {
                var code = new StringBuilder("import sys\nfor text in [\n");
                foreach (var text in texts)
                {
                    code.Append(CodeText.Quote(text).Text).Append(",\n");
                }

                code.Append("]:\n    print(','.join(str(ord(c)) for c in text))\n");
                Assert.Equal(
                    texts.Select(NumbersWithHalves),
                    Lines("python3", ["-X", "utf8", "-"], code.ToString())
                );
            }
        );

    [Property(MaxTest = 3)]
    public Property R_reads_back_every_text() =>
        Prop.ForAll(
            Texts,
            texts =>
            {
                var code = new StringBuilder();
                foreach (var text in texts)
                {
                    code.Append("cat(utf8ToInt(")
                        .Append(RText.Quote(text))
                        .Append("), sep = \",\"); cat(\"\\n\")\n");
                }

                Assert.Equal(texts.Select(Numbers), Lines("Rscript", ["--vanilla", "-"], code.ToString()));
            }
        );

    [Property(MaxTest = 5)]
    public Property DuckDB_reads_back_every_text() =>
        Prop.ForAll(
            Texts,
            texts =>
            {
                using var connection = new DuckDBConnection("DataSource=:memory:");
                connection.Open();
                foreach (var text in texts)
                {
                    using var command = connection.CreateCommand();
                    command.CommandText = $"select {SqlDialect.DuckDb.Text(text)}";
                    Assert.Equal(Shown(text), command.ExecuteScalar());
                }
            }
        );

    [Property(MaxTest = 20)]
    public Property No_SQL_literal_holds_a_mark_that_reorders_text_or_ends_a_line() =>
        Prop.ForAll(
            Texts,
            texts =>
            {
                foreach (
                    var dialect in new[] { SqlDialect.DuckDb, SqlDialect.PostgreSql, SqlDialect.ClickHouse }
                )
                {
                    Assert.All(
                        texts,
                        t =>
                            Assert.DoesNotContain(
                                dialect.Text(t),
                                c => char.IsControl(c) || c is '\u202E' or '\u2066' or '\u2028'
                            )
                    );
                }
            }
        );

    [Property(MaxTest = 20)]
    public Property Cells_hold_texts_that_XML_can_hold() =>
        Prop.ForAll(
            Texts,
            texts => Assert.All(texts, t => System.Xml.XmlConvert.VerifyXmlChars(WorkbookText.Cell(t)))
        );

    private static string Numbers(string text) =>
        string.Join(',', Shown(text).EnumerateRunes().Select(r => Digits(r.Value)));

    private static string NumbersWithHalves(string text)
    {
        var numbers = new List<string>();
        for (var i = 0; i < text.Length; i++)
        {
            var isPair =
                char.IsHighSurrogate(text[i]) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]);
            numbers.Add(Digits(isPair ? char.ConvertToUtf32(text, i) : text[i]));
            i += isPair ? 1 : 0;
        }

        return string.Join(',', numbers);
    }

    private static string Digits(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static IEnumerable<string> Lines(string program, string[] arguments, string input)
    {
        var info = new ProcessStartInfo(program)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            StandardInputEncoding = new UTF8Encoding(false),
            StandardOutputEncoding = Encoding.UTF8,
        };
        foreach (var argument in arguments)
        {
            info.ArgumentList.Add(argument);
        }

        using var process = Process.Start(info)!;
        var output = process.StandardOutput.ReadToEndAsync();
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        process.WaitForExit();
        return output.Result.Split('\n')[..^1];
    }
}
