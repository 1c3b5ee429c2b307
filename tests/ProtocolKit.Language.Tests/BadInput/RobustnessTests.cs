using ProtocolKit.Fuzz;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.BadInput;

/// <summary>
/// Every file of the corpus cut off anywhere, with any line missing, doubled or in the place of the next one: no crash, no
/// hang, places inside the text, bounded findings. Ten million random changes are one command away:
/// <c>dotnet run -c Release --project tests/ProtocolKit.Fuzz -- 10000000</c>.
/// </summary>
public sealed class RobustnessTests
{
    private static readonly IReadOnlyList<Seed> Seeds = Seed.In(Repository.Root);

    /// <summary>For all texts of a test together.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(10);

    /// <summary>The corpus and the reference; the example's length would take minutes.</summary>
    private static IEnumerable<Seed> Small => Seeds.Where(s => s.Text.Length < 3_000);

    [Fact]
    public void Every_file_may_be_cut_off_anywhere() =>
        Hold(seed => Enumerable.Range(0, seed.Text.Length).Select(n => seed.Text[..n]));

    [Fact]
    public void Every_line_may_be_missing() => Hold(seed => Changed(seed, (lines, i) => lines.RemoveAt(i)));

    [Fact]
    public void Every_line_may_stand_twice() =>
        Hold(seed => Changed(seed, (lines, i) => lines.Insert(i, lines[i])));

    [Fact]
    public void Every_line_may_stand_in_the_place_of_the_next() =>
        Hold(seed =>
            Changed(
                seed,
                (lines, i) =>
                {
                    var next = (i + 1) % lines.Count;
                    (lines[i], lines[next]) = (lines[next], lines[i]);
                }
            )
        );

    [Fact]
    public void Twenty_thousand_random_changes_break_no_law()
    {
        var result = Guarded.Run(() => new Lane(Seeds, 7).Run(20_000), Patience);
        Assert.Empty(result.Faults.Select(f => $"{f.Seed}: {f.What}\n{f.Text}"));
        Assert.InRange(result.Ways, 1_000, 20_000);
    }

    /// <summary>Found by five million random changes: nothing to join had no end.</summary>
    [Fact]
    public void A_measure_that_reads_no_answer_may_decide_which_trial_counts() =>
        Assert.Null(
            Verdict
                .Of(
                    "language 1\nprotocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;0\n"
                        + "task taps\n  say \"Tap.\"\n  count taps 0 to 10\n  trials 2, keep highest five\n"
                        + "measure five \"Five\"\n  = 5\n",
                    new OutOfOrder()
                )
                .Wrong
        );

    /// <summary>A verdict that never finds a fault would prove nothing.</summary>
    [Fact]
    public void A_module_source_that_throws_is_noticed() =>
        Assert.Contains(
            "out of order",
            Verdict.Of("protocol tiny\nuse other\n", new OutOfOrder()).Wrong,
            StringComparison.Ordinal
        );

    /// <summary>What nests as deep as is allowed is read with half of the smallest stack a machine gives. Found by six million changed texts.</summary>
    [Theory]
    [InlineData("(", ")")]
    [InlineData("best of (", ")")]
    [InlineData("least(0, ", ")")]
    [InlineData("if ", " then 1 otherwise 0")]
    [InlineData("if best of (", ") = 1 then 1 otherwise 0")]
    [InlineData("if not (", " = 1) then 1 otherwise 0")]
    public void What_nests_too_deep_is_refused_before_the_stack_ends(string open, string close)
    {
        var rule =
            string.Concat(Enumerable.Repeat(open, 25)) + "a" + string.Concat(Enumerable.Repeat(close, 25));
        Verdict? verdict = null;
        var thread = new Thread(
            () =>
                verdict = Verdict.Of(
                    Tiny.Whole($"task a item(three)\nscore u \"U\" = {rule}\n"),
                    new NoModules()
                ),
            512 * 1024
        );
        thread.Start();
        thread.Join();
        Assert.Null(verdict!.Wrong);
    }

    private static IEnumerable<string> Changed(Seed seed, Action<List<string>, int> change)
    {
        var lines = seed.Text.Split('\n');
        for (var i = 0; i < lines.Length; i++)
        {
            var copy = lines.ToList();
            change(copy, i);
            yield return string.Join('\n', copy);
        }
    }

    private static void Hold(Func<Seed, IEnumerable<string>> texts)
    {
        Assert.InRange(Small.Count(), 250, 2_000);
        var faults = Guarded.Run(
            () =>
                Small
                    .SelectMany(s => texts(s).Select(t => (Text: t, Verdict.Of(t, s.Modules).Wrong)))
                    .Where(v => v.Wrong is not null)
                    .Take(3)
                    .ToList(),
            Patience
        );
        Assert.Empty(faults.Select(f => $"{f.Wrong}\n{f.Text}"));
    }

    private sealed class OutOfOrder : ProtocolKit.Language.Binding.IModuleSource
    {
        public IEnumerable<string> Names => ["other"];

        public SourceText? Find(string name) => throw new InvalidOperationException("out of order");
    }
}
