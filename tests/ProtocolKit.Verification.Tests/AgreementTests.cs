using FsCheck.Xunit;
using ProtocolKit.Model;
using ProtocolKit.TestPrograms;
using static ProtocolKit.TestPrograms.Expr;

namespace ProtocolKit.Verification.Tests;

public class AgreementTests
{
    private static readonly VerifyOptions Thorough = new() { Records = 1000, Targets = Quick.Targets };

    [Fact]
    public void Every_target_agrees_on_a_screen_with_every_kind_of_answer()
    {
        var report = Verifier.Run(SampleScreen.Protocol(), Thorough);

        AssertAgreed(report);
        Assert.Equal(
            ["csharp", "javascript-jint", "javascript-node", "python", "sql-duckdb"],
            report.Targets.Select(t => t.Target)
        );
        Assert.All(report.Targets, t => Assert.Equal(report.Records, t.Records));
        Assert.Equal(1064, report.Records - report.AtEdges);
    }

    [Fact]
    public void Sums_differences_products_and_ends_agree()
    {
        var b = new ProgramBuilder();
        var (x, y) = (b.Number("x", -9, 9), b.Number("y", 0, 12));
        b.Line("sum", Plus(Plus(x, y), Const(-3)));
        b.Line("difference", Minus(x, Minus(y, Minus(x, Const(2)))));
        b.Line("product", Times(x, Times(y, Plus(x, Const(1)))));
        b.Line("minus-zero", Times(Const(0), x));
        b.Line("least", Smaller(x, Smaller(y, Const(4))));
        b.Line("most", Larger(Minus(x, y), Const(-4)));

        AssertAgreed(Verifier.Run(b.Build(), Thorough));
    }

    [Fact]
    public void A_quotient_of_negative_numbers_rounds_half_up_under_its_guard()
    {
        var b = new ProgramBuilder();
        var x = b.Number("x", -50, 50);
        var rounded = b.Line("rounded", RoundHalfUp(x, 10));
        b.Line("in-thirds", RoundHalfUp(Times(Const(7), x), 3));
        b.Line("of-rounded", Floor(Plus(rounded, Const(5)), Const(2)));
        var protocol = b.Build();

        AssertAgreed(Verifier.Run(protocol, Thorough));

        // core.md R4: half up is floor(x + 1/2), also below zero: -1.5 becomes -1, 1.5 becomes 2, -1.6 becomes -2.
        Assert.Equal(-1, Rounded(protocol, -15));
        Assert.Equal(2, Rounded(protocol, 15));
        Assert.Equal(-2, Rounded(protocol, -16));
    }

    [Fact]
    public void Both_branches_of_a_choice_every_case_and_every_guarded_term_agree()
    {
        var b = new ProgramBuilder();
        var (x, y) = (b.Number("x", 0, 9), b.Number("y", -4, 4));
        var low = b.Line("low", AtMost(x, Const(4)));
        var even = b.Line(
            "zero-or-four",
            Or(Same(x, Const(0)), And(Same(x, Const(4)), No(AtMost(y, Const(0)))))
        );
        b.Line("choice", If(low, If(even, x, y), If(No(even), Const(-1), Times(x, y))));
        b.Line("chosen-condition", If(AtMost(If(low, x, y), Const(2)), Const(1), Const(0)));
        b.Line("case", Case(x, (0, 2, -7), (3, 3, 8), (4, 8, 0), (9, 9, ScoringProgram.Limit)));
        b.Line("case-of-negative", Case(y, (-4, -1, 1), (0, 4, 2)));
        b.Line("nothing", Sum());
        b.Line("one", Sum((low, x)));
        b.Line("always", Sum((null, x)));
        b.Line(
            "terms",
            Sum((low, x), (null, y), (No(even), Const(-3)), (even, Times(x, y)), (low, Const(2)))
        );
        b.Line("difference-of-sums", Minus(Sum((low, x), (even, y)), Sum((low, y), (null, x))));

        AssertAgreed(Verifier.Run(b.Build(), Thorough));
    }

    [Fact]
    public void Values_next_to_the_limit_stay_exact()
    {
        const long limit = ScoringProgram.Limit;
        var b = new ProgramBuilder();
        var (x, d) = (b.Number("x", limit - 40, limit), b.Number("d", 1, 5000));
        b.Line("below", Minus(x, Const(1)));
        b.Line("above-zero", Minus(x, Const(limit - 41)));
        b.Line("negative", Minus(Const(0), x));
        b.Line("quotient", Floor(x, d));
        b.Line("quotient-by-itself", Floor(x, Minus(x, Const(1))));
        b.Line("quotient-nearly-two", Floor(x, Const((limit / 2) + 1)));
        b.Line("rest", Minus(x, Times(Smaller(Floor(x, Const(3)), Const(limit / 3)), Const(3))));
        b.Line("product", Times(Smaller(d, Const(1)), x));

        AssertAgreed(Verifier.Run(b.Build(), Thorough with { Records = 5000 }));
    }

    [Fact]
    public void Sums_of_two_thousand_parts_agree()
    {
        var b = new ProgramBuilder();
        var x = b.Number("x", 0, 3);
        var few = b.Line("few", AtMost(x, Const(1)));
        b.Line("terms", Sum([.. Enumerable.Range(0, 2000).Select(i => (i % 2 == 0 ? few : null, x))]));
        b.Line(
            "chain",
            Enumerable.Range(0, 150).Aggregate(x, (sum, i) => i % 3 == 0 ? Minus(sum, x) : Plus(sum, x))
        );
        b.Line(
            "ends",
            Enumerable.Range(0, 100).Aggregate(x, (all, i) => Smaller(Plus(x, Const(i % 4)), all))
        );
        b.Line("any", Enumerable.Range(0, 2000).Aggregate(few, (all, i) => Or(all, Same(x, Const(i % 9)))));

        AssertAgreed(Verifier.Run(b.Build(), new VerifyOptions { Records = 5, Targets = Quick.Targets }));
    }

    [Fact]
    public void Names_that_are_words_of_a_language_or_nearly_alike_stay_apart()
    {
        string[] names =
        [
            "class",
            "class-",
            "new",
            "fields",
            "Math",
            "math",
            "pick",
            "Pick",
            "await",
            "eval",
            "long",
            "a-b",
            "a.b",
            "a--b",
            "a.-b",
            "a-.b",
            "1st",
            "n",
            "x.1",
            "constructor",
            "proto",
        ];
        var b = new ProgramBuilder();
        var x = b.Number("x", 0, 9);
        for (var i = 0; i < names.Length; i++)
        {
            var line = b.Line(names[i], Plus(x, Const(i)));
            b.Line("after." + names[i], Times(line, Const(2)));
        }

        AssertAgreed(Verifier.Run(b.Build(), new VerifyOptions { Records = 20, Targets = Quick.Targets }));
    }

    [Fact]
    public void Of_too_many_edges_an_even_selection_is_run_and_the_report_says_so()
    {
        var report = Verifier.Run(
            SampleScreen.Protocol(),
            new VerifyOptions
            {
                Records = 5,
                MostAtEdges = 20,
                Targets = ["csharp"],
            }
        );

        Assert.True(report.AllAgreed);
        Assert.InRange(report.AtEdges, 19, 20);
        Assert.Equal(64, report.Sampled);
        Assert.Equal(report.AtEdges + 64 + 5, report.Targets[0].Records);
        Assert.StartsWith(
            FormattableString.Invariant(
                $"{report.Records} records: {report.AtEdges} of {report.AllEdges} at edges, 64 exactly sampled, 5 random"
            ),
            VerifyText.Write(report),
            StringComparison.Ordinal
        );
    }

    /// <summary>Random programs, each on all its edges and some random records.</summary>
    [Property(MaxTest = 25)]
    public void Random_programs_agree(int seed) =>
        AssertAgreed(
            Verifier.Run(
                RandomProgram.From(seed),
                new VerifyOptions { Records = 60, Targets = Quick.Targets }
            )
        );

    private static long Rounded(Protocol protocol, long x)
    {
        var fields = Testing.Records.Flawless(protocol);
        fields[protocol.Program.Answers[0].ValueField] = x;
        return Scoring.Evaluator.Run(protocol.Program, fields)[0];
    }

    private static void AssertAgreed(VerifyReport report) =>
        Assert.True(report.AllAgreed, VerifyText.Write(report));
}
