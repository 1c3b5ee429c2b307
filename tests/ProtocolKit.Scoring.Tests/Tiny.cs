using ProtocolKit.Model;
using static ProtocolKit.Scoring.Tests.ProgramBuilder;

namespace ProtocolKit.Scoring.Tests;

/// <summary>
/// A small invented protocol of the invented Quillmere Children's Clinic, built by hand: four tongue tasks, a
/// timed run of three trials, a choice, a question; two cut-off tables; four actions; a short form.
/// </summary>
internal static class Tiny
{
    public static Scale Three { get; } =
        new(
            "three",
            Better.Higher,
            [new(2, "Full.", null), new(1, "Part.", null), new(0, "None.", null)],
            Origin.None
        )
        {
            Step = 1,
        };

    public static Scale Odd { get; } =
        new(
            "odd",
            Better.Higher,
            [new(5, "Clear.", null), new(2, "Rough.", null), new(0, "None.", null)],
            Origin.None
        )
        {
            Step = 1,
        };

    public static IReadOnlyList<Band> Bands { get; } =
    [new("look-further", "Look further"), new("look-again", "Look again"), new("as-expected", "As expected")];

    public static IReadOnlyList<ProtocolAction> Actions { get; } =
    [
        Action("full-assessment", "Full assessment", "within 2 weeks", false, "any band is look-further"),
        Action("complete", "Finish the untried parts", "within 4 weeks", true, "any band is undecided"),
        Action("screen-again", "Screen again", "within 12 weeks", false, "any band is look-again or worse"),
        Action("no-action", "No action", null, false, "no other action applies"),
    ];

    public static Outcome TongueTotal { get; } =
        new(
            "tongue-total",
            "Tongue",
            true,
            "add up rate of every task in tongue",
            Unit.One,
            1,
            0,
            8,
            null,
            Origin.None
        );

    public static Outcome PaRate { get; } =
        new(
            "pa-rate",
            "Pa rate",
            false,
            "pa-run.syllables / pa-run.run",
            Unit.Of(["syllables"], ["s"]),
            new Rational(1, 10),
            0,
            120,
            "0.3 s",
            Origin.None
        );

    public static Protocol Protocol { get; } = Build();

    public static Response Rating(Scale scale) =>
        new()
        {
            Name = "rate",
            Kind = ResponseKind.Rating,
            Scale = scale,
            Low = scale.Levels[^1].Points,
            High = scale.Levels[0].Points,
            Better = scale.Better,
        };

    public static ProtocolAction Action(
        string name,
        string title,
        string? urgency,
        bool finish,
        string when
    ) => new(name, title, urgency, finish, [when], Origin.None);

    public static ProtocolTask Task(string name, string title, int number, params Response[] responses) =>
        new()
        {
            Name = name,
            Title = title,
            Number = number,
            Variants = [new Variant("", "", ["Go."], [])],
            Trials = new TrialPlan(1, Keep.Only, null, null),
            Responses = responses,
        };

    /// <summary>The same protocol with further values of its own.</summary>
    public static Protocol With(Action<ProgramBuilder> more, params Outcome[] outcomes)
    {
        var protocol = Build(more);
        return protocol with { Outcomes = [.. protocol.Outcomes, .. outcomes] };
    }

    private static Protocol Build(Action<ProgramBuilder>? more = null)
    {
        var program = new ProgramBuilder();
        var tasks = Tasks();
        foreach (var task in tasks)
        {
            program.Task(
                task,
                task.Name == "pa-run"
                    ? (trial, _) => Rate(program, trial)
                    : (trial, variant) =>
                        Value(program.Slots(task.Name, task.Responses[0].Name, variant)[trial - 1])
            );
        }

        Outcomes(program);
        more?.Invoke(program);
        return new Protocol
        {
            Name = "tiny-screen",
            Title = "Tiny screen",
            Edition = "1.0",
            Ages = Ages(48, 143),
            ShortFormMinutes = 15,
            Tasks = tasks,
            Sections = [tasks[0].Section!],
            Scales = [Three],
            Outcomes = [TongueTotal, PaRate],
            Bands = Bands,
            CutOffs = [.. program.Bands.Select(b => b.Table)],
            Actions = Actions,
            History =
            [
                new("worry", "What worries you?", HistoryAnswer.Text, Origin.None),
                new("braces", "Braces?", HistoryAnswer.YesNo, Origin.None),
            ],
            Consents = [new("exam", "I agree to the examination.", Origin.None)],
            Program = program.Build(),
            Fingerprints = new Fingerprints("00000000000000aa", "00000000000000bb", "00000000000000cc"),
        };
    }

    private static List<ProtocolTask> Tasks()
    {
        var tongue = new Section("tongue", "Tongue", null, false, Origin.None);
        var overflow = new Observation("overflow", "neck, jaw or hands join in", true, Origin.None);
        var upToTwo = new TrialPlan(2, Keep.Highest, "rate", new FurtherTrial("rate", 2));
        return
        [
            Task("tip-nose", "Tongue tip to the nose", 1, Rating(Three)) with
            {
                Section = tongue,
                ShortForm = true,
                Trials = upToTwo,
                Ticks = [new Tick(overflow, true)],
                Help =
                [
                    new HelpRung("said again", Contact.None),
                    new HelpRung("shown in the mirror", Contact.None),
                ],
            },
            Task("tip-chin", "Tongue tip to the chin", 2, Rating(Three)) with
            {
                Section = tongue,
            },
            Task("tip-corner", "Tongue tip to the corner", 3, Rating(Three)) with
            {
                Section = tongue,
                ShortForm = true,
                VariantKind = VariantKind.Side,
                Variants = [new Variant("right", "right", [], []), new Variant("left", "left", [], [])],
            },
            Task("pa-run", "Pa run", 4, Syllables(), Run()) with
            {
                Trials = new TrialPlan(3, Keep.Highest, "pa-rate", null),
            },
            Task("first-pair", "First pair", 5, Pair()),
            Task("nods", "Nods", 6, YesNo()),
        ];
    }

    private static Response Syllables() =>
        new()
        {
            Name = "syllables",
            Kind = ResponseKind.Count,
            Low = 0,
            High = 60,
            Unit = Unit.Tag("syllables"),
        };

    private static Response Run() =>
        new()
        {
            Name = "run",
            Kind = ResponseKind.Time,
            Low = new Rational(1, 2),
            High = 15,
            Step = new Rational(1, 10),
            Unit = Unit.Of(["s"], []),
            PlausibleLow = 1,
            PlausibleHigh = 10,
        };

    private static Response Pair() =>
        new()
        {
            Name = "choice",
            Kind = ResponseKind.Choice,
            Options = [new("as-shown", "As shown."), new("swapped", "Swapped."), new("neither", "Neither.")],
        };

    private static Response YesNo() =>
        new()
        {
            Name = "nodded",
            Kind = ResponseKind.YesNo,
            Options = [new("yes", "yes"), new("no", "no")],
        };

    private static AgeRange Ages(int from, int to) => new(new Age(from), new Age(to));

    /// <summary>Syllables a second in tenths, half up: s ÷ (r ⁄ 10) = 100 s ⁄ r tenths.</summary>
    private static FloorDivide Divide(IntExpr syllables, IntExpr run) =>
        new(Plus(Times(syllables, Number(200)), run), Times(run, Number(2)), 0, ScoringProgram.Limit);

    private static FloorDivide Rate(ProgramBuilder program, int trial) =>
        Divide(
            Value(program.Slots("pa-run", "syllables")[trial - 1]),
            Value(program.Slots("pa-run", "run")[trial - 1])
        );

    private static void Outcomes(ProgramBuilder program)
    {
        program.Sum(
            TongueTotal,
            "tip-nose.rate",
            "tip-chin.rate",
            "tip-corner.rate.right",
            "tip-corner.rate.left"
        );
        var (syllableState, syllableLow, syllableHigh) = program.Kept("pa-run.syllables");
        var (_, runLow, runHigh) = program.Kept("pa-run.run");
        program.Outcome(
            PaRate,
            If(Is(syllableState, 1), Number(1), Number(0)),
            Divide(syllableLow, runHigh),
            Divide(syllableHigh, runLow),
            "pa-run.syllables",
            "pa-run.run"
        );
        program.Table(
            Table(
                TongueTotal,
                false,
                Row(48, 71, (0, 2), (3, 4), (5, 8)),
                Row(72, 143, (0, 4), (5, 6), (7, 8))
            )
        );
        program.Table(Table(TongueTotal, true, Row(48, 143, (0, 1), (2, 3), (4, 6))));
        var tenths = new Rational(1, 10);
        program.Table(
            Table(PaRate, false, Row(48, 143, (0, 29 * tenths), (3, 34 * tenths), (35 * tenths, 120)))
        );
        Decide(program);
    }

    private static CutOffTable Table(Outcome outcome, bool isShort, params CutOffRow[] rows) =>
        new(
            outcome,
            isShort,
            Bands,
            rows,
            new Basis(BasisKind.Provisional, "awaiting the pilot", null, null, []) { IsProvisional = true },
            Origin.None
        );

    private static CutOffRow Row(int from, int to, params (Rational From, Rational To)[] cells) =>
        new(Ages(from, to), [.. cells.Select(c => new CutOffCell(c.From, c.To))], Origin.None);

    private static void Decide(ProgramBuilder program)
    {
        var further = program.AnyBand(0);
        var again = program.AnyBand(1);
        var undecided = program.AnyBand(-1);
        var open = new BothOf(undecided, new Not(further));
        program.Action(Actions[0], further, new Not(new EitherOf(further, undecided)));
        program.Action(Actions[1], undecided, new Not(undecided));
        program.Action(
            Actions[2],
            new EitherOf(further, again),
            new Not(new EitherOf(again, new EitherOf(further, open)))
        );
        var any = new EitherOf(further, new EitherOf(again, undecided));
        program.Action(Actions[3], new Not(any), any);
    }
}
