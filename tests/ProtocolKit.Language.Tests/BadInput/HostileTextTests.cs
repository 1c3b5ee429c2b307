using System.Text;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Language.Tests.BadInput;

/// <summary>Texts no author means: each gets a clear message or a correct protocol, soon, and never a crash.</summary>
public sealed class HostileTextTests
{
    private const int Mega = 1_000_000;

    private static readonly Dictionary<string, Func<string>> Texts = new(StringComparer.Ordinal)
    {
        ["nothing"] = () => "",
        ["spaces"] = () => "   \n  \n",
        ["a comment"] = () => "# later",
        ["zero bytes"] = () => "protocol\0tiny\0",
        ["a picture"] = () =>
            Encoding.UTF8.GetString([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0xFF, 0xFE]),
        ["invalid UTF-8"] = () =>
            Encoding.UTF8.GetString([.. "protocol tiny\n  title \"T"u8, 0xC3, 0x28, 0xA0, 0xA1, .. "\"\n"u8]),
        ["half a character"] = () => Tiny.Header() + "section s \"\ud83d\"\n",
        ["lone returns"] = () => Tiny.Header().Replace('\n', '\r'),
        ["a lone return in a text"] = () => Tiny.Header() + "section s \"a\rb\"\n",
        ["a form feed"] = () => Tiny.Header() + "\f\nsection s \"S\"\n",
        ["10 MB of brackets"] = () => new string('(', 10 * Mega),
        ["5 MB of brackets"] = () => Tiny.Header() + "score t = " + new string('(', 4 * Mega),
        ["5 MB of closing brackets"] = () => Tiny.Header() + "score t = " + new string(')', 4 * Mega),
        ["a bracket a line"] = () => Tiny.Header() + string.Concat(Enumerable.Repeat("(\n", Mega)),
        ["5 MB of minus signs"] = () =>
            Tiny.Header() + "score t = " + string.Concat(Enumerable.Repeat("- ", 2 * Mega)) + "1",
        ["5 MB of nots"] = () =>
            Tiny.Header()
            + "claim \"c\" when "
            + string.Concat(Enumerable.Repeat("not ", Mega))
            + "t = 1 then t = 1",
        ["5 MB of ifs"] = () =>
            Tiny.Header() + "score t = " + string.Concat(Enumerable.Repeat("if t = 1 then ", 300_000)) + "1",
        ["5 MB of sums"] = () =>
            Tiny.Header() + "score t = " + string.Concat(Enumerable.Repeat("a + ", Mega)) + "a",
        ["5 MB of ands"] = () =>
            Tiny.Header()
            + "claim \"c\" when "
            + string.Concat(Enumerable.Repeat("a = 1 and ", 400_000))
            + "a = 1 then a = 1",
        ["5 MB of commas"] = () => Tiny.Header() + "task a\n  tick " + new string(',', 4 * Mega),
        ["5 MB of names"] = () =>
            Tiny.Header()
            + "task a\n  tick "
            + string.Join(",", Enumerable.Range(0, 600_000).Select(i => $"o{i}")),
        ["5 MB of dots"] = () =>
            Tiny.Header() + "score t = a" + string.Concat(Enumerable.Repeat(".a", 2 * Mega)),
        ["5 MB of hyphens"] = () =>
            Tiny.Header() + "score t = a" + string.Concat(Enumerable.Repeat("-a", 2 * Mega)),
        ["a name of 1 MB"] = () => Tiny.Header() + "section " + new string('a', Mega) + " \"S\"",
        ["a number of 1 MB"] = () => Tiny.Header() + "task a\n  count x 0 to " + new string('9', Mega),
        ["an age of 1 MB"] = () =>
            "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;" + new string('0', Mega) + " to 5;11\n",
        ["quotes of 1 MB"] = () => Tiny.Header() + "section s " + new string('"', Mega - 1),
        ["typographic quotes of 1 MB"] = () => Tiny.Header() + "section s " + new string('“', Mega),
        ["single quotes of 100 KB"] = () => Tiny.Header() + "section s " + new string('’', 100_000),
        ["a text that never ends"] = () => Tiny.Header() + "section s \"" + new string('x', Mega),
        ["stray characters"] = () => Tiny.Header() + new string('%', Mega),
        ["tabs"] = () => Tiny.Header() + string.Concat(Enumerable.Repeat("\ttask a\n", 200_000)),
        ["deep indentation"] = () =>
            Tiny.Header()
            + string.Concat(Enumerable.Range(0, 2000).Select(i => new string(' ', i) + "say \"x\"\n")),
        ["deep indentation back and forth"] = () =>
            Tiny.Header()
            + string.Concat(Enumerable.Range(0, 200_000).Select(i => new string(' ', i % 11) + "a\n")),
        ["100,000 unknown words"] = () =>
            Tiny.Header() + string.Concat(Enumerable.Range(0, 100_000).Select(i => $"wrong{i}\n")),
        ["100,000 unknown names"] = () =>
            Tiny.Header() + string.Concat(Enumerable.Range(0, 100_000).Select(i => $"task t{i} f{i}()\n")),
        ["100,000 names twice"] = () =>
            Tiny.Header() + string.Concat(Enumerable.Repeat("band low \"Low\"\n", 100_000)),
        ["100,000 broken lines"] = () =>
            Tiny.Header() + string.Concat(Enumerable.Repeat("score = = =\n", 100_000)),
        ["100,000 rows"] = () =>
            Tables("t")
            + string.Concat(Enumerable.Repeat("  4;0 to 5;11  0\n", 100_000))
            + "  basis provisional \"x\"\n",
        ["100,000 bands"] = () =>
            Tables("t").Replace("low", string.Join("  ", Enumerable.Range(0, 100_000).Select(i => $"b{i}"))),
        ["100,000 tables of nothing"] = () =>
            Tiny.Header() + string.Concat(Enumerable.Range(0, 100_000).Select(i => $"cut-offs t{i}\n")),
        ["a million answers"] = () =>
            Tiny.Header()
            + "task a each word "
            + string.Join(",", Enumerable.Range(0, 400_000).Select(i => $"w{i}"))
            + "\n  trials 50, keep first\n  count x 0 to 9\n",
        ["a family that multiplies"] = () =>
            Tiny.Header()
            + "family f()\n"
            + string.Concat(Enumerable.Range(0, 50_000).Select(i => $"  count c{i} 0 to 9\n"))
            + string.Concat(Enumerable.Range(0, 100_000).Select(i => $"task t{i} f()\n")),
        ["sums that multiply"] = () =>
            Tiny.Header()
            + FragmentPrelude.Vocabulary
            + "section s \"S\"\n"
            + string.Concat(Enumerable.Range(0, 50_000).Select(i => $"  task t{i} item(three)\n"))
            + string.Concat(
                Enumerable.Range(0, 20_000).Select(i => $"score s{i} = add up rate of every task in s\n")
            ),
        ["a module that uses itself"] = () => Tiny.Header() + "use self\n",
    };

    public static TheoryData<string> Refused => [.. Texts.Keys];

    [Theory]
    [MemberData(nameof(Refused))]
    public void A_hostile_text_is_refused_with_a_message(string what)
    {
        var compilation = Guarded.Compile(
            Texts[what](),
            new Modules(new Dictionary<string, string> { ["self"] = "module self\nuse self\n" })
        );
        Assert.True(compilation.HasErrors, what);
        Assert.Contains(compilation.Diagnostics, d => d.Severity == Severity.Error);
        Assert.InRange(compilation.Diagnostics.Count, 1, 200);
        Assert.All(compilation.Diagnostics, d => Assert.InRange(DiagnosticText.Render(d).Length, 1, 2000));
        Assert.All(
            compilation.Diagnostics,
            d => Assert.DoesNotContain(DiagnosticText.Render(d), c => char.IsControl(c) && c != '\n')
        );
    }

    [Fact]
    public void What_is_too_much_to_list_is_counted()
    {
        var compilation = Guarded.Compile(
            Tiny.Header() + string.Concat(Enumerable.Range(0, 100_000).Select(i => $"wrong{i}\n"))
        );
        Assert.Equal(200, compilation.Diagnostics.Count);
        Assert.Equal(99_800, compilation.Omitted);
    }

    [Fact]
    public void A_chain_of_modules_too_long_is_refused()
    {
        var modules = Enumerable
            .Range(0, 20_000)
            .ToDictionary(i => $"m{i}", i => $"module m{i}\nuse m{i + 1}\n");
        Assert.Contains(
            Guarded.Compile(Tiny.Header() + "use m0\n", new Modules(modules)).Diagnostics,
            d => d.Code == "PK3008"
        );
    }

    private static string Tables(string outcome) =>
        Tiny.Header()
        + FragmentPrelude.Vocabulary
        + $"task a item(three)\nscore {outcome} = 1 * a\ncut-offs {outcome}\n  ages  low\n";
}
