using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests;

/// <summary>R20: results by raw value and age, against a table that is read here by eye.</summary>
public sealed class R20TableTests
{
    private const string Raw = """
        section s "S"
          task a item(three)
          task b item(three)
        score t "T"
          add up rate of every task in s

        """;

    private const string Percentiles = """
        table p "Percentile" of t
          raw      4;0 to 4;11  5;0 to 5;11
          0 to 1   2            1
          2        16           9
          3        50           37
          4        84           75
          basis provisional "invented"

        """;

    private static readonly int[,] ByEye =
    {
        { 2, 1 },
        { 2, 1 },
        { 16, 9 },
        { 50, 37 },
        { 84, 75 },
    };

    [Fact]
    public void R20_every_raw_value_has_the_result_of_its_row_and_age()
    {
        var compiled = Compiled.Fragment(Raw + Percentiles);
        foreach (var record in compiled.Records())
        {
            foreach (var (month, column) in new[] { (48, 0), (59, 0), (60, 1), (71, 1) })
            {
                record[compiled.Program.AgeField] = month;
                var lines = compiled.Run(record);
                var raw = (int)compiled.Value("t", lines).Numerator;
                Assert.Equal(ByEye[raw, column], compiled.Value("p", lines));
            }

            record[compiled.Program.AgeField] = 48;
        }
    }

    [Fact]
    public void R20_untried_in_untried_out()
    {
        var compiled = Compiled.Fragment(Raw + Percentiles);
        var record = compiled.Lowest();
        compiled.Set(record, "a.rate", 1);
        compiled.Set(record, "b.rate", 0, State.Refused);

        // Raw 1 to 3 is 2 to 50.
        Assert.Equal(((Rational)2, (Rational)50), compiled.Ends("p", compiled.Run(record)));
        var blocked = Compiled.Fragment(Raw + "  untried blocks\n" + Percentiles);
        var line = blocked.Program.Outcomes.Single(o => o.Outcome.Name == "p").StateLine;
        Assert.Equal((long)State.Refused, blocked.Run(record)[line]);
    }

    [Fact]
    public void R20_outside_the_protocols_ages_a_table_is_not_applicable()
    {
        var compiled = Compiled.Fragment(Raw + Percentiles);
        var record = compiled.Lowest();
        record[compiled.Program.AgeField] = 72;
        var line = compiled.Program.Outcomes.Single(o => o.Outcome.Name == "p").StateLine;
        Assert.Equal((long)State.NotApplicable, compiled.Run(record)[line]);
    }

    [Fact]
    public void R20_results_that_rise_and_fall_give_the_least_and_most_in_between()
    {
        var compiled = Compiled.Fragment(
            Raw
                + """
                table p "P" of t
                  raw  4;0 to 5;11
                  0    5
                  1    1
                  2    9
                  3    2
                  4    4
                  basis provisional "x"
                """
        );
        int[] results = [5, 1, 9, 2, 4];
        var record = compiled.Lowest();
        for (var b = 0; b <= 2; b++)
        {
            compiled.Set(record, "a.rate", 0, State.Refused);
            compiled.Set(record, "b.rate", b);
            var between = results[b..(b + 3)];
            Assert.Equal(
                ((Rational)between.Min(), (Rational)between.Max()),
                compiled.Ends("p", compiled.Run(record))
            );
        }
    }

    [Theory]
    [InlineData("0 to 2  10", "3 to 4", "")] // nothing for 3 and 4
    [InlineData("0  10", "1", "2 to 4  30")]
    [InlineData("0 to 4  none", "0 to 4", "")]
    public void R20_what_can_occur_and_has_no_result_does_not_compile(string row, string hole, string further)
    {
        var compiled = Compiled.Fragment(
            Raw + $"table p \"P\" of t\n  raw  4;0 to 5;11\n  {row}\n  {further}\n  basis provisional \"x\"\n"
        );
        Assert.Contains(hole, Assert.Single(compiled.Of("PK4046")).Message.Text, StringComparison.Ordinal);
        Assert.Null(compiled.Compilation.Protocol);
    }

    [Theory]
    [InlineData("4;0 to 4;11", "PK4046")]
    [InlineData("4;0 to 5;11  5;0 to 5;11", "PK4047")]
    public void R20_columns_cover_every_age_once(string ages, string code)
    {
        var cells = ages.Contains("  ", StringComparison.Ordinal) ? "1  2" : "1";
        var compiled = Compiled.Fragment(
            Raw + $"table p \"P\" of t\n  raw  {ages}\n  0 to 4  {cells}\n  basis provisional \"x\"\n"
        );
        Assert.Single(compiled.Of(code));
    }

    [Fact]
    public void R20_a_result_has_a_step_and_a_unit_and_may_be_banded_and_looked_up_again()
    {
        var compiled = Compiled.Fragment(
            Raw
                + """
                table p "P" of t in points, step 0.5
                  raw     4;0 to 5;11
                  0 to 2  1.5
                  3 to 4  3
                  basis provisional "x"
                table q "Q" of p
                  raw     4;0 to 5;11
                  1.5     10
                  2 to 3  20
                  basis provisional "x"
                cut-offs q
                  ages          low  high
                  4;0 to 5;11   10   20
                  basis provisional "x"
                """
        );
        var record = compiled.Lowest();
        Assert.Equal(new Rational(3, 2), compiled.Value("p", compiled.Run(record)));
        Assert.Equal("low", compiled.Band("q", compiled.Run(record)));
        compiled.Set(record, "a.rate", 2);
        compiled.Set(record, "b.rate", 1);
        Assert.Equal(3, compiled.Value("p", compiled.Run(record)));
        Assert.Equal("high", compiled.Band("q", compiled.Run(record)));
        Assert.Equal("points", compiled.Protocol.Outcomes.Single(o => o.Name == "p").Unit.Symbol);
    }

    [Property(MaxTest = 40)]
    public Property R20_any_table_gives_the_least_and_most_of_the_results_that_the_ends_enclose() =>
        Prop.ForAll(
            Gen.Choose(-20, 20).ArrayOf(5).ToArbitrary(),
            Gen.Choose(-1, 2).ArrayOf(2).ToArbitrary(),
            (results, answers) =>
            {
                var rows = string.Concat(results.Select((r, i) => $"  {i}  {r}\n"));
                var compiled = Compiled.Fragment(
                    Raw + $"table p \"P\" of t\n  raw  4;0 to 5;11\n{rows}  basis provisional \"x\"\n"
                );
                var record = compiled.Lowest();
                foreach (var (task, answer) in new[] { "a", "b" }.Zip(answers))
                {
                    var state = answer < 0 ? State.Refused : State.Known;
                    compiled.Set(record, $"{task}.rate", Math.Max(0, answer), state);
                }

                var low = answers.Sum(a => Math.Max(a, 0));
                var high = answers.Sum(a => a < 0 ? 2 : a);
                var between = results[low..(high + 1)];
                return compiled.Ends("p", compiled.Run(record)) == (between.Min(), between.Max());
            }
        );
}
