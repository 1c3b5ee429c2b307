using System.Diagnostics;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace ProtocolKit.Scoring.Tests;

/// <summary>Whatever is handed in as a record: a clear problem, soon, and never an exception.</summary>
public class HostileRecordTests
{
    /// <summary>Far more than any of these takes, on a busy machine too; it fails when something grows with the square of the text.</summary>
    private static readonly TimeSpan Soon = TimeSpan.FromMinutes(2);

    public static TheoryData<string, string, string> Texts() =>
        new()
        {
            { "empty", "", "The record is empty." },
            { "blank", " \n\n", "The record is empty." },
            { "a comment alone", "# nothing\n", "The record is empty." },
            { "a byte order mark alone", "\uFEFF", "The record is empty." },
            {
                "binary",
                "PK\u0003\u0004\0\0\u0008",
                "This is no plain text: it holds a character (U+0003) that no record can hold."
            },
            {
                "bytes that are no UTF-8",
                "case: \uFFFD",
                "This is no plain text: it holds a character (U+FFFD) that no record can hold."
            },
            {
                "an escape sequence of a terminal",
                "case: \u001b[31m",
                "This is no plain text: it holds a character (U+001B) that no record can hold."
            },
            { "a list", "- a\n- b\n", "A record is a list of keys, each with its value." },
            { "a word", "hello", "A record is a list of keys, each with its value." },
            {
                "10 MB of brackets",
                new string('[', 10_000_000),
                "This file is larger than 1 MB, and a record never is."
            },
            {
                "a million brackets",
                new string('[', 1_000_000),
                "Lists stand inside lists here, deeper than any record needs."
            },
            {
                "a million braces",
                new string('{', 1_000_000),
                "Lists stand inside lists here, deeper than any record needs."
            },
            {
                "nine levels of lists",
                "a: [[[[[[[[1]]]]]]]]",
                "Lists stand inside lists here, deeper than any record needs."
            },
            {
                "a million aliases",
                "a: &x y\nb: [" + string.Concat(Enumerable.Repeat("*x,", 1_000_000)) + "]",
                "This file is larger than 1 MB, and a record never is."
            },
            { "a tab", "parts:\n\t- seen: 2026-03-04\n", "A tab stands at the start of this line." },
            { "an open quotation mark", "case: \"QC-1\nform: full\n", "A quotation mark isn't closed here." },
            {
                "no space after a colon",
                "protocol: a\ncase:QC-1\nform: full\n",
                "No space follows the colon here."
            },
            {
                "no colon",
                "protocol: a\ncase QC-1\nform: full\n",
                "This line has no colon, so nothing tells the key from its value."
            },
            { "an impossible escape", "case: \"\\UFFFFFFFF\"", "From here on the record can't be read." },
            {
                "lines that don't stand under each other",
                "a: 1\n  b: 2\n",
                "From here on the record can't be read."
            },
            { "a second record", Records.Good + "---\n" + Records.Good, "A second record begins here." },
            { "a list as a key", Records.Good + "? [a]\n: 2\n", "A key can't be a list." },
            {
                "a control character written as an escape",
                Records.Good + "notes:\n  tip-nose: \"\\e[31m\"\n",
                "This text holds a control character."
            },
        };

    [Theory]
    [MemberData(nameof(Texts))]
    public void A_hostile_text_gets_one_clear_problem_soon(string what, string text, string message)
    {
        var watch = Stopwatch.StartNew();
        var reading = Records.Read(text);
        Assert.True(watch.Elapsed < Soon, what);
        Assert.Null(reading.Record);
        Assert.Equal(message, Assert.Single(reading.Problems).Message);
    }

    [Theory]
    [InlineData("case: ", 0xD83D)]
    [InlineData("case: 😀", 0xDE00)]
    public void Half_a_surrogate_pair_is_no_text(string before, int half)
    {
        var problem = Records.Only(before + (char)half);
        Assert.StartsWith("This is no plain text", problem.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Anchors_aliases_and_tags_are_refused_once_each()
    {
        var text = Records.Good + "notes:\n  tip-nose: &a x\n  tip-chin: *a\n  pa-run: *a\n  nods: !!str y\n";
        var problems = Records.Read(text).Problems;
        Assert.Equal(
            [
                "An anchor (&) stands here; a record takes none.",
                "An alias (*) stands here, and 1 more further on; a record takes none.",
                "A tag (!) stands here; a record takes none.",
            ],
            problems.Select(p => p.Message)
        );
        Assert.Equal([28, 29, 31], problems.Select(p => p.Origin.Line));
    }

    [Fact]
    public void As_many_aliases_as_fit_are_refused_soon()
    {
        var watch = Stopwatch.StartNew();
        var text = "a: &x y\nb: [" + string.Concat(Enumerable.Repeat("*x,", 340_000)) + "]";
        var problems = Records.Read(text).Problems;
        Assert.True(watch.Elapsed < Soon);
        Assert.Contains(
            problems,
            p => p.Message.Contains("339999 more further on", StringComparison.Ordinal)
        );
    }

    [Fact]
    public void As_many_unknown_keys_as_fit_are_all_told_soon()
    {
        var watch = Stopwatch.StartNew();
        var text =
            "answers:\n" + string.Concat(Enumerable.Range(0, 50_000).Select(i => $"  tip-nse-{i}: 1\n"));
        var problems = Records.Read(text).Problems;
        Assert.True(watch.Elapsed < Soon);
        Assert.True(problems.Count > 50_000);
    }

    [Fact]
    public void A_title_of_ten_thousand_characters_is_shown_short()
    {
        var problem = Records.Only(Records.With("form: full", "form: " + new string('x', 10_000)));
        Assert.InRange(problem.Message.Length, 1, 200);
    }

    [Property(MaxTest = 300)]
    public void Random_text_never_throws(string? text)
    {
        var reading = Records.Read(text ?? "");
        Assert.True(reading.Record is null == reading.Problems.Count > 0);
    }

    /// <summary>Pieces of YAML in any order come nearer to what the reader does than random letters do.</summary>
    [Property(MaxTest = 1500)]
    public Property Random_pieces_never_throw()
    {
        var pieces = Gen.Elements(
            "a",
            ": ",
            "\n",
            "  ",
            "- ",
            "[",
            "]",
            "{",
            "}",
            ",",
            "\"",
            "'",
            "&x ",
            "*x",
            "!t ",
            "|\n",
            ">\n",
            "? ",
            "#",
            "\t",
            "%",
            "@",
            "---\n",
            "...\n",
            "\\",
            "case",
            "answers:\n  ",
            "tip-nose.rate.trial-1: ",
            "2\n",
            "refused\n",
            "parts:\n  - seen: 2026-01-01\n",
            "\r\n",
            "\uFEFF",
            "\u2028",
            "\u0085",
            "é",
            "~",
            "<<: ",
            "\"\\x41\"",
            "\"\\uD800\"",
            "form: short\n"
        );
        var texts = Gen.ListOf(pieces).Select(string.Concat).ToArbitrary();
        return Prop.ForAll(
            texts,
            text =>
            {
                var reading = Records.Read(text);
                return reading.Record is null == reading.Problems.Count > 0;
            }
        );
    }

    /// <summary>One character of a good record changed or taken out: read, or refused with a place in the text.</summary>
    [Property(MaxTest = 1000)]
    public Property A_slip_of_the_pen_never_throws()
    {
        var slips =
            from place in Gen.Choose(0, Records.Good.Length - 1)
            from with in Gen.Elements(
                "",
                " ",
                "\n",
                ":",
                "\"",
                "{",
                "[",
                "-",
                "\t",
                "x",
                "9",
                "*",
                "&",
                "!",
                "#",
                "'"
            )
            select Records.Good[..place] + with + Records.Good[(place + 1)..];
        return Prop.ForAll(
            slips.ToArbitrary(),
            text =>
            {
                var lines = text.Split('\n').Length;
                var reading = Records.Read(text);
                return reading.Record is null == reading.Problems.Count > 0
                    && reading.Problems.All(p =>
                        p.Origin.Line >= 1 && p.Origin.Line <= lines + 1 && p.Origin.Column >= 1
                    );
            }
        );
    }
}
