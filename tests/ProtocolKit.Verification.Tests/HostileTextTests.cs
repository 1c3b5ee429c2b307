using ProtocolKit.Model;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Verification.Tests;

/// <summary>Whatever stands in a protocol's texts, emitted code is the same code.</summary>
public class HostileTextTests
{
    public static TheoryData<string> Texts { get; } =
    [
        "*/ throw new Error(); /*",
        "</script><script>alert(1)</script>",
        "<!-- --> ]]>",
        "{{ name }} {% raw %} ${name} #{name} {0}",
        "line one\nthrow 1; // \r\n#error no\r#if false",
        "line\u2028separator\u2029and\u0085next\vtab\fform",
        "\"; System.Environment.Exit(1); \"",
        "'`\\u000athrow 1\\",
        "ends in a backslash \\",
        "\u202Eright to left\u202C \u200B\uFEFF zero width",
        "\0\u0001\u001b[31m",
        "lone \uD800 and \uDC00 halves, and a pair \U0001F600",
        "",
        "   ",
        "\" onload=\"x",
        "#pragma warning\n#nullable",
    ];

    /// <summary>
    /// All of them in one text, without controls and halves of characters: some targets can't hold those in any text
    /// and show them as U+FFFD.
    /// </summary>
    internal static string AllAtOnce { get; } =
        string.Concat(
            ((IEnumerable<object[]>)Texts)
                .SelectMany(t => ((string)t[0]).EnumerateRunes())
                .Where(r => r.Value != 0xFFFD && (r.Value == '\n' || !System.Text.Rune.IsControl(r)))
        );

    [Theory]
    [MemberData(nameof(Texts))]
    public void A_hostile_title_is_carried_whole_and_runs_nothing(string text)
    {
        var protocol = SampleScreen.Protocol(text);
        using var code = new EmittedCode(protocol);

        Assert.Equal(text, code.CSharpTitle);
        Assert.Equal(text, code.AboutTitle);
        Assert.All(
            [code.CSharp, code.JavaScript],
            c =>
            {
                Assert.DoesNotContain("</script", c, StringComparison.OrdinalIgnoreCase);
                Assert.DoesNotContain("<!--", c, StringComparison.Ordinal);
                Assert.DoesNotContain('\r', c);
                Assert.DoesNotContain('\u2028', c);
                Assert.DoesNotContain('\u202E', c);
            }
        );
    }

    [Theory]
    [MemberData(nameof(Texts))]
    public void Hostile_texts_everywhere_leave_the_scoring_as_it_is(string text)
    {
        // A database can't hold the character with number 0: its dialects write the replacement character instead.
        var targets = Quick.Targets.Where(t =>
            !text.Contains('\0') || !t.StartsWith("sql", StringComparison.Ordinal)
        );
        var report = Verifier.Run(
            Everywhere(text),
            new VerifyOptions { Records = 30, Targets = [.. targets] }
        );

        Assert.True(report.AllAgreed, VerifyText.Write(report));
    }

    /// <summary>A fact, as an attribute can't carry half a character.</summary>
    [Fact]
    public void Halves_of_characters_are_carried_whole_and_run_nothing() =>
        A_hostile_title_is_carried_whole_and_runs_nothing("lone \uD800 and \uDC00 halves");

    [Fact]
    public void A_title_of_ten_thousand_characters_is_broken_into_lines()
    {
        var title = string.Join(' ', Enumerable.Repeat("screening", 1000)) + new string('x', 100);
        using var code = new EmittedCode(SampleScreen.Protocol(title));

        Assert.Equal(title, code.AboutTitle);
        Assert.All(
            code.JavaScript.Split('\n').TakeWhile(l => l.StartsWith("//", StringComparison.Ordinal)),
            l => Assert.True(l.Length < 120, l)
        );
    }

    /// <summary>The text in place of every name, note, unit and basis that reaches the code.</summary>
    internal static Protocol Everywhere(string text)
    {
        var protocol = SampleScreen.Protocol(text);
        var program = protocol.Program;
        return protocol with
        {
            Edition = text,
            Fingerprints = new Fingerprints(text, text, text),
            Program = program with
            {
                Fields = [.. program.Fields.Select(f => f with { Name = f.Name + text, Note = text })],
                Lines = [.. program.Lines.Select(l => l with { Name = l.Name + text, Note = text })],
                Kept = [.. program.Kept.Select(k => k with { Key = k.Key + text })],
                Outcomes =
                [
                    .. program.Outcomes.Select(o =>
                        o with
                        {
                            Outcome = o.Outcome with { Name = o.Outcome.Name + text, Unit = Unit.Tag(text) },
                            Reads = [.. o.Reads.Select(r => r + text)],
                        }
                    ),
                ],
                Bands =
                [
                    .. program.Bands.Select(b =>
                        b with
                        {
                            Table = b.Table with
                            {
                                Outcome = b.Table.Outcome with { Name = b.Table.Outcome.Name + text },
                                Bands = [.. b.Table.Bands.Select(n => n with { Name = n.Name + text })],
                                Basis = b.Table.Basis with { Text = text },
                            },
                        }
                    ),
                ],
                Actions =
                [
                    .. program.Actions.Select(a =>
                        a with
                        {
                            Action = a.Action with { Name = a.Action.Name + text },
                        }
                    ),
                ],
            },
        };
    }
}
