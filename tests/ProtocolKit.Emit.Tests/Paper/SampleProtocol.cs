using ProtocolKit.Model;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>A protocol built by hand: one task of every shape a sheet or a card has to hold. All invented.</summary>
internal static class SampleProtocol
{
    private static readonly Material Gloves = new("gloves", "Non-latex gloves", "2 pairs", Origin.None);
    private static readonly Material Ruler = new("ruler", "Ruler in millimetres", null, Origin.None);
    private static readonly Material Timer = new("timer", "Timer", null, Origin.None);

    private static readonly Scale Movement = new(
        "movement",
        Better.Higher,
        [
            new(2, "Full, smooth and centred.", "reaches the place in one go"),
            new(1, "Part of the way, or drifts, or another part helps.", "the tip gets halfway"),
            new(0, "Tries, with no movement the asked way.", null),
        ],
        Origin.None
    )
    {
        Step = 1,
    };

    private static readonly IReadOnlyList<Tick> Ticks =
    [
        Seen("helper-movement", "neck, shoulders, eyes or hands join in"),
        Seen("groping", "searches for the place before it gets there"),
        Seen("tremor", "trembles"),
    ];

    private static readonly IReadOnlyList<HelpRung> Help =
    [
        new("said again", Contact.None),
        new("shown in the mirror", Contact.None),
        new("guided once by a hand", Contact.Face),
    ];

    private static readonly FurtherTrial BelowTwo = new("rate", 2);

    public static Section Tongue { get; } =
        new("tongue", "Tongue", "Sit level with the child.", false, Origin.None);

    public static Protocol Full { get; } = Of(Tasks());

    public static Protocol Of(IReadOnlyList<ProtocolTask> tasks)
    {
        var outcome = new Outcome(
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
        Band[] bands =
        [
            new("look-further", "Look further"),
            new("look-again", "Look again"),
            new("as-expected", "As expected"),
        ];
        return new()
        {
            Name = "sample",
            Title = "Sample of every task",
            Edition = "1.0",
            Ages = new(new(48), new(143)),
            Sitting = new(30, 45),
            ShortFormMinutes = 15,
            Purpose = "Invented content to try the paper outputs. It makes no diagnosis.",
            Materials = [Gloves, Ruler, Timer],
            Cautions =
            [
                new("agreement", "Ask before every single touch and wait for a yes.", [], [], Origin.None),
                new("quiet-room", "Close the window.", [], [], Origin.None),
                new(
                    "clean-hands",
                    "Wash hands, then fresh gloves.",
                    [Contact.Face, Contact.Mouth],
                    [],
                    Origin.None
                ),
                new("rulers", "Disinfect the ruler before and after.", [], ["ruler"], Origin.None),
            ],
            Scales = [Movement],
            Sections = [Tongue],
            Tasks = tasks,
            Outcomes = [outcome],
            Bands = bands,
            CutOffs =
            [
                Table(outcome, false, bands, "CUT-OFF-BASIS-FULL"),
                Table(outcome, true, bands, "CUT-OFF-BASIS-SHORT"),
            ],
            Actions =
            [
                new(
                    "full",
                    "ACTION-FULL",
                    "within 2 weeks",
                    false,
                    ["any band is look-further"],
                    Origin.None
                ),
                new("none", "ACTION-NONE", null, false, ["no other action applies"], Origin.None),
            ],
            History =
            [
                new("worry", "What worries you today?", HistoryAnswer.Text, Origin.None),
                new("braces", "Does your child wear braces?", HistoryAnswer.YesNo, Origin.None),
            ],
            Consents = [new("exam", "I agree to the examination.", Origin.None)],
            Program = SampleProgram.Of(tasks),
            Fingerprints = new("0123456789abcdef", "1123456789abcdef", "2123456789abcdef"),
        };
    }

    public static ProtocolTask Task(int number, string name, string title) =>
        new()
        {
            Name = name,
            Number = number,
            Title = title,
            Section = Tongue,
            Variants = [new("", "", ["Do this with me."], ["Do it once yourself."])],
            Trials = new(1, Keep.Only, null, null),
        };

    public static Response Rate(string name = "rate") =>
        new()
        {
            Name = name,
            Kind = ResponseKind.Rating,
            Scale = Movement,
            Low = 0,
            High = 2,
        };

    public static Tick Seen(string name, string text) => new(new(name, text, true, Origin.None), true);

    private static List<ProtocolTask> Tasks() =>
        [
            Task(1, "quiet-face", "Quiet face") with
            {
                ShortForm = true,
                Responses = [Choice("choice", "even", "one-lower"), Direction()],
            },
            Task(2, "teeth", "Teeth and gums") with
            {
                Ticks = [.. Ticks, Seen("sore-gum", "sore or swollen gum")],
            },
            Task(3, "tongue-out", "Tongue straight out") with
            {
                ShortForm = true,
                Trials = new(2, Keep.Highest, "rate", BelowTwo),
                Responses = [Rate(), Direction()],
                Ticks = Ticks,
                Help = [.. Help.Take(2)],
                Note = "What else moved",
            },
            Task(4, "pa-run", "Pa, again and again") with
            {
                ShortForm = true,
                Practice = "Slowly once together.",
                Go = "Your hand goes up.",
                Materials = [Timer],
                Trials = new(3, Keep.Highest, "pa-rate", null),
                Responses = [Syllables(), Run()],
                Ticks = Ticks,
                StopWhen = ["the child is dizzy"],
            },
            Task(5, "wet-voice", "Voice after a swallow") with
            {
                Responses =
                [
                    new()
                    {
                        Name = "yes-no",
                        Kind = ResponseKind.YesNo,
                        Options = [new("yes", "yes"), new("no", "no")],
                    },
                ],
            },
            Task(6, "two-ratings", "Rated twice") with
            {
                Responses = [Rate("smooth"), Rate("strong")],
            },
            Task(7, "tip-corner", "Tongue tip to the corner") with
            {
                ShortForm = true,
                Contact = Contact.Face,
                Materials = [Gloves],
                VariantKind = VariantKind.Side,
                Variants = [Side("left"), Side("right")],
                Trials = new(2, Keep.Highest, "rate", BelowTwo),
                Responses = [Rate()],
                Ticks = [.. Ticks.Take(2)],
                Help = Help,
            },
            Task(8, "say-words", "Say these words") with
            {
                Contact = Contact.Face,
                VariantKind = VariantKind.Word,
                Variants = [Word("ball"), Word("puppy"), Word("sun")],
                Responses = [Rate()],
            },
            Task(9, "widest-gap", "Widest opening") with
            {
                Contact = Contact.Mouth,
                Materials = [Ruler, Gloves],
                Trials = new(2, Keep.Highest, "gap", null),
                Responses = [Gap()],
                StopWhen = ["it hurts", "the child gags or pulls back"],
            },
            Task(10, "long-texts", "A task whose words need more than one card, to see where they go") with
            {
                Contact = Contact.Mouth,
                Variants =
                [
                    new(
                        "",
                        "",
                        Long("Say this line with me", 9),
                        Long("Show this slowly, facing the child", 9)
                    ),
                ],
                Responses = [Rate()],
                Ticks = Ticks,
                Help = Help,
                StopWhen = Long("the child does something that means no", 6),
            },
        ];

    private static List<string> Long(string text, int times) =>
        Enumerable.Range(1, times).Select(i => $"{text}, and then once more as line {i}.").ToList();

    private static CutOffTable Table(Outcome outcome, bool shortForm, Band[] bands, string basis) =>
        new(
            outcome,
            shortForm,
            bands,
            [
                new(new(new(48), new(71)), [new(0, 2), new(3, 4), new(5, 8)], Origin.None),
                new(new(new(72), new(143)), [new(0, 3), null, new(4, 8)], Origin.None),
            ],
            new(BasisKind.Provisional, basis, null, null, []) { IsProvisional = true },
            Origin.None
        );

    private static Variant Side(string side) =>
        new(side, side, ["Put your tongue in this corner."], [$"Point to the child’s {side} corner."]);

    private static Variant Word(string word) => new(word, word, [$"Say {word}."], []);

    private static Response Choice(string name, params string[] options) =>
        new()
        {
            Name = name,
            Kind = ResponseKind.Choice,
            Options = options
                .Select(o => new Option(o, Names.ToTitle(o) + " as seen from the front."))
                .ToList(),
        };

    private static Response Direction() =>
        new()
        {
            Name = "direction",
            Kind = ResponseKind.Direction,
            Options = [new("middle", "middle"), new("right", "right"), new("left", "left")],
            WeakSide = WeakSide.Same,
        };

    private static Response Syllables() =>
        new()
        {
            Name = "syllables",
            Kind = ResponseKind.Count,
            Low = 0,
            High = 60,
            Unit = Unit.Tag("syllables"),
            Spans = Spans.Intervals,
        };

    private static Response Run() =>
        new()
        {
            Name = "run",
            Kind = ResponseKind.Time,
            Low = new(1, 2),
            High = 15,
            Step = new(1, 10),
            Unit = Unit.Of(["s"], []),
        };

    private static Response Gap() =>
        new()
        {
            Name = "gap",
            Kind = ResponseKind.Quantity,
            Low = 0,
            High = 70,
            Unit = Unit.Of(["mm"], []),
        };
}
