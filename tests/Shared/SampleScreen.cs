using ProtocolKit.Model;
using static ProtocolKit.TestPrograms.Expr;

namespace ProtocolKit.TestPrograms;

/// <summary>
/// An invented screen of Quillmere Children's Clinic with every kind of answer, two sides, further trials, a
/// short form, cut-offs by age and actions. Its program is written by hand.
/// </summary>
internal static class SampleScreen
{
    public static readonly Scale Movement = new(
        "movement",
        Better.Higher,
        [new Level(2, "Full.", null), new Level(1, "Part.", null), new Level(0, "None.", null)],
        Origin.None
    )
    {
        Step = 1,
    };

    private static readonly Variant Plain = new("", "", [], []);

    public static Protocol Protocol(string title = "Sample screen") => Build(title).Build();

    private static ProgramBuilder Build(string title)
    {
        var b = new ProgramBuilder
        {
            Name = "sample-screen",
            Title = title,
            HasShortForm = true,
        };
        AddTasks(b);
        var kiss = Kiss(b);
        var (cornerState, cornerLow, cornerHigh) = Corners(b);
        var swaps = Swaps(b);
        var state = b.Line("total.state", Larger(kiss.State, cornerState), "known, or the reason why not");
        var bounded = If(AtMost(Const(2), state), Const(0), state);
        var known = b.Line("total.known", bounded, "an untried answer leaves a score bounded");
        var low = b.Line("total.low", Plus(kiss.Low, cornerLow), "Total, lower end");
        var high = b.Line("total.high", Plus(kiss.High, cornerHigh), "Total, upper end");
        var total = b.Outcome(
            "total",
            (known, low, high),
            1,
            1,
            ["kiss.rate", "corner.rate.right", "corner.rate.left"]
        );
        Interpret(b, total, known, low, high);
        b.Outcome(
            "swap-rate",
            (swaps.State, swaps.Low, swaps.High),
            new Rational(1, 10),
            new Rational(1, 10),
            ["swap.swaps", "swap.run"]
        );
        b.Outcome(
            "swap-share",
            (swaps.State, swaps.Count, swaps.Count),
            10,
            null,
            ["swap.swaps", "swap.run"],
            (swaps.Time, swaps.Time)
        );
        return b;
    }

    private static void AddTasks(ProgramBuilder b)
    {
        var rate = new Response
        {
            Name = "rate",
            Kind = ResponseKind.Rating,
            Scale = Movement,
            Low = 0,
            High = 2,
            Better = Better.Higher,
        };
        var groping = new Observation("groping", "Searches for the posture", true, Origin.None);
        b.Task(
            Task(
                "kiss",
                true,
                [Plain],
                new TrialPlan(2, Keep.Highest, "rate", new FurtherTrial("rate", 2)),
                rate
            ) with
            {
                Ticks = [new Tick(groping, true)],
            }
        );
        b.Task(
            Task(
                "corner",
                false,
                [new Variant("right", "right", [], []), new Variant("left", "left", [], [])],
                new TrialPlan(1, Keep.Only, null, null),
                rate
            )
        );
        b.Task(
            Task(
                "swap",
                true,
                [Plain],
                new TrialPlan(1, Keep.Only, null, null),
                Quantity("swaps", 0, 60, 1, "swaps"),
                Quantity("run", new Rational(1, 2), 15, new Rational(1, 10), "s") with
                {
                    Better = Better.Lower,
                }
            )
        );
        b.Task(
            Task(
                "look",
                true,
                [Plain],
                new TrialPlan(1, Keep.Only, null, null),
                Options("choice", ResponseKind.Choice, "closed", "open", "changes"),
                Options("direction", ResponseKind.Direction, "middle", "right", "left"),
                Options("asks", ResponseKind.YesNo, "yes", "no"),
                Quantity("gap", -5, 70, new Rational(1, 2), "mm")
            )
        );
    }

    private static (IntExpr State, IntExpr Low, IntExpr High) Kiss(ProgramBuilder b)
    {
        var (first, firstState) = (b.Value("kiss.rate.trial-1"), b.StateOf("kiss.rate.trial-1"));
        var (second, secondState) = (b.Value("kiss.rate.trial-2"), b.StateOf("kiss.rate.trial-2"));
        var further = b.Line(
            "kiss.further",
            And(Same(secondState, Const(0)), AtMost(first, second)),
            "the second counts"
        );
        var state = b.Line("kiss.state", If(further, Const(0), firstState));
        var untried = AtMost(Const(2), state);
        var low = b.Line("kiss.low", If(untried, Const(0), If(further, second, first)));
        var high = b.Line("kiss.high", If(untried, Const(2), low));
        b.Kept("kiss.rate.trial-1", state, low, high);
        return (state, low, high);
    }

    private static (IntExpr State, IntExpr Low, IntExpr High) Corners(ProgramBuilder b)
    {
        var sides = new List<(IntExpr State, IntExpr Low, IntExpr High)>();
        foreach (var side in new[] { "right", "left" })
        {
            var key = $"corner.rate.{side}";
            var state = b.Line($"corner.{side}.state", b.StateOf(key));
            var low = b.Line($"corner.{side}.low", b.Value(key));
            var high = b.Line($"corner.{side}.high", If(AtMost(Const(2), state), Const(2), low));
            b.Kept(key, state, low, high);
            sides.Add((state, low, high));
        }

        var applies = sides.Select(s => (BoolExpr)No(Same(s.State, Const(1)))).ToList();
        var worst = b.Line(
            "corners.state",
            Larger(If(applies[0], sides[0].State, Const(0)), If(applies[1], sides[1].State, Const(0)))
        );
        return (
            worst,
            b.Line("corners.low", Sum((applies[0], sides[0].Low), (applies[1], sides[1].Low))),
            b.Line("corners.high", Sum((applies[0], sides[0].High), (applies[1], sides[1].High)))
        );
    }

    private static (IntExpr State, IntExpr Low, IntExpr High, IntExpr Count, IntExpr Time) Swaps(
        ProgramBuilder b
    )
    {
        var state = b.Line("swap-rate.state", Larger(b.StateOf("swap.swaps"), b.StateOf("swap.run")));
        var count = b.Line("swap.count", b.Value("swap.swaps"));
        var time = b.Line("swap.time", b.Value("swap.run"));
        b.Kept("swap.swaps", b.Line("swap.swaps.state-kept", b.StateOf("swap.swaps")), count, count);
        b.Kept("swap.run", b.Line("swap.run.state-kept", b.StateOf("swap.run")), time, time);

        // count / (time / 10 s), rounded half up to a tenth: floor((2·100·count + time) / (2·time)).
        var rate = b.Line(
            "swap-rate.low",
            Floor(Plus(Times(Const(200), count), time), Times(Const(2), time)),
            "swaps per second, in tenths"
        );
        return (state, rate, b.Line("swap-rate.high", Smaller(rate, Const(1200))), count, time);
    }

    private static void Interpret(ProgramBuilder b, Outcome total, IntExpr known, IntExpr low, IntExpr high)
    {
        Band[] bands =
        [
            new("look-further", "Look further"),
            new("look-again", "Look again"),
            new("as-expected", "As expected"),
        ];
        AgeRange[] ages = [new(new Age(48), new Age(59)), new(new Age(60), new Age(71))];
        CutOffRow Row(AgeRange range, params CutOffCell?[] cells) => new(range, cells, Origin.None);
        var basis = new Basis(BasisKind.Provisional, "awaiting the pilot", null, null, [])
        {
            IsProvisional = true,
        };
        var full = new CutOffTable(
            total,
            false,
            bands,
            [Row(ages[0], new(0, 2), new(3, 4), new(5, 6)), Row(ages[1], new(0, 3), new(4, 4), new(5, 6))],
            basis,
            Origin.None
        );
        var brief = full with { ShortForm = true, Rows = [Row(ages[0], new(0, 0), new(1, 1), new(2, 2))] };
        var young = b.Line("young", AtMost(b.Age, Const(59)));
        IntExpr BandOf(IntExpr v) =>
            If(young, Case(v, (0, 2, 0), (3, 4, 1), (5, 6, 2)), Case(v, (0, 3, 0), (4, 4, 1), (5, 6, 2)));
        var atLow = b.Line("band.at-low", BandOf(low));
        var atHigh = b.Line("band.at-high", BandOf(high));
        var outside = b.Line("outside", Or(AtMost(b.Age, Const(47)), AtMost(Const(72), b.Age)));
        var decided = If(Same(atLow, atHigh), atLow, Const(3));
        var full1 = b.Line("band", If(Or(outside, No(Same(known, Const(0)))), Const(4), decided));
        var brief1 = b.Line(
            "band.short",
            If(outside, Const(4), If(Same(low, high), Smaller(low, Const(2)), Const(3)))
        );
        b.Band(full, full1);
        b.Band(brief, brief1);
        var inUse = b.Line("band.in-use", If(Same(b.Form, Const(1)), brief1, full1));
        AddActions(b, inUse);
    }

    private static void AddActions(ProgramBuilder b, IntExpr band)
    {
        var undecided = Same(band, Const(3));
        var further = b.Line("full-assessment.applies", Same(band, Const(0)));
        var notFurther = b.Line("full-assessment.applies-not", And(No(further), No(undecided)));
        var again = b.Line(
            "screen-again.applies",
            Or(Same(band, Const(1)), Same(b.Observation("kiss.groping"), Const(2)))
        );
        var notAgain = b.Line("screen-again.applies-not", And(No(again), No(undecided)));
        var none = b.Line("no-action.applies", And(notFurther, notAgain));
        var notNone = b.Line("no-action.applies-not", Or(further, again));
        b.Action("full-assessment", further, notFurther);
        b.Action("screen-again", again, notAgain);
        b.Action("no-action", none, notNone);
        var first = If(further, Const(0), If(again, Const(1), If(none, Const(2), Const(-1))));
        b.HeadlineLine = ProgramBuilder.At(b.Line("headline", first));
    }

    private static ProtocolTask Task(
        string name,
        bool shortForm,
        IReadOnlyList<Variant> variants,
        TrialPlan trials,
        params Response[] responses
    ) =>
        new()
        {
            Name = name,
            Title = name,
            Number = 1,
            ShortForm = shortForm,
            VariantKind = variants.Count > 1 ? VariantKind.Side : VariantKind.None,
            Variants = variants,
            Trials = trials,
            Responses = responses,
        };

    private static Response Quantity(string name, Rational low, Rational high, Rational step, string unit) =>
        new()
        {
            Name = name,
            Kind = ResponseKind.Quantity,
            Low = low,
            High = high,
            Step = step,
            Unit = Unit.Of([unit], []),
            Better = Better.Higher,
        };

    private static Response Options(string name, ResponseKind kind, params string[] options) =>
        new()
        {
            Name = name,
            Kind = kind,
            Options = [.. options.Select(o => new Option(o, o))],
        };
}
