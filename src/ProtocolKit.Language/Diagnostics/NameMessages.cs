namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 3: names and what they stand for.</summary>
internal static class NameMessages
{
    private static readonly Descriptor UnknownEntry = new(
        "PK3001",
        Severity.Error,
        "A name that stands for nothing",
        "Every scale, family, material, task or score must be declared before the protocol can mean anything. Often the name is only misspelt, or the module that declares it isn't used.",
        "task a\n  rate thre\n",
        "task a\n  rate three\n"
    );

    private static readonly Descriptor TwiceEntry = new(
        "PK3002",
        Severity.Error,
        "A name used twice",
        "A name stands for one thing. Tasks, measures and scores share their names, because rules may speak of any of them.",
        "task a item(three)\ntask a item(even)\n",
        "task a item(three)\ntask b item(even)\n"
    );

    private static readonly Descriptor SpellingEntry = new(
        "PK3003",
        Severity.Error,
        "A name that isn't spelt like one",
        "Names are lower-case words and digits joined by hyphens, beginning with a letter: tip-nose. A dot only leads from a task to its answer.",
        "task TipNose item(three)\n",
        "task tip-nose item(three)\n"
    );

    private static readonly Descriptor HyphenEntry = new(
        "PK3004",
        Severity.Error,
        "A hyphen read as part of a name",
        "A hyphen inside a name never subtracts. To subtract, put a space on both sides of the minus.",
        "task jaw item(three) each side left, right\nmeasure d = jaw.left-jaw.right\n",
        "task jaw item(three) each side left, right\nmeasure d = jaw.left - jaw.right\n"
    );

    private static readonly Descriptor SidedEntry = new(
        "PK3005",
        Severity.Error,
        "A task with sides named without one",
        "A task given on both sides has two answers. Say which is meant: task.left, worst side of task, or every side of task in a list.",
        "task jaw item(three) each side left, right\nscore t \"T\" = 2 * jaw\n",
        "task jaw item(three) each side left, right\nscore t \"T\" = worst side of jaw\n"
    );

    private static readonly Descriptor WhichAnswerEntry = new(
        "PK3006",
        Severity.Error,
        "A task with several answers named without one",
        "A bare task means its only answer. This one has several: add a dot and the answer's name.",
        "task run\n  count steps 0 to 9\n  count slips 0 to 9\nmeasure m = run\n",
        "task run\n  count steps 0 to 9\n  count slips 0 to 9\nmeasure m = run.steps\n"
    );

    private static readonly Descriptor NoModuleEntry = new(
        "PK3007",
        Severity.Error,
        "A module that can't be found",
        "A module is a file NAME.protocol beside the protocol, in a folder modules beside it, or in the library.",
        "use no-such-module\n",
        "task a item(three)\n"
    );

    private static readonly Descriptor CycleEntry = new(
        "PK3008",
        Severity.Error,
        "Modules that use each other in a circle",
        "A module can't use itself, directly or through others. Move what both need into a third module.",
        "",
        "task a item(three)\n"
    );

    private static readonly Descriptor WrongFileEntry = new(
        "PK3009",
        Severity.Error,
        "A protocol where a module belongs, or the other way round",
        "A file begins with protocol NAME or module NAME. Only modules can be used by other files; only protocols can be built.",
        "",
        "task a item(three)\n"
    );

    private static readonly Descriptor ArgumentsEntry = new(
        "PK3010",
        Severity.Error,
        "A family called with too much or too little",
        "A task hands a family one name, text or number for each of its parameters; parameters with a default may be left out at the end.",
        "task a item()\n",
        "task a item(three)\n"
    );

    private static readonly Descriptor PlaceholderEntry = new(
        "PK3011",
        Severity.Error,
        "A placeholder nothing fills",
        "Words in braces are filled in from a family's parameters, from the side or place a task is given for, or, in letters, from the record.",
        "task a\n  say \"Touch {part}.\"\n  rate three\n",
        "family touch(part)\n  say \"Touch {part}.\"\n  rate three\ntask a touch(\"your nose\")\n"
    );

    private static readonly Descriptor NotHereEntry = new(
        "PK3012",
        Severity.Error,
        "A name of another kind",
        "The name is known, but stands for something that can't be used here.",
        "section s \"S\"\n  task a item(three)\nscore t \"T\" = 2 * s\n",
        "section s \"S\"\n  task a item(three)\nscore t \"T\" = 2 * a\n"
    );

    private static readonly Descriptor PartEntry = new(
        "PK3013",
        Severity.Error,
        "A task has no such answer or side",
        "After a task's name come, in this order, the answer and the side: task.response.side.",
        "task jaw item(three) each side left, right\nscore t \"T\" = 2 * jaw.top\n",
        "task jaw item(three) each side left, right\nscore t \"T\" = 2 * jaw.left\n"
    );

    /// <summary>Where there are so few of a kind that all can be named.</summary>
    public static Message UnknownOf(string kind, string name, IReadOnlyList<string> all)
    {
        var nearest = Suggest.Nearest(name, all);
        var fix =
            nearest is not null ? $"Did you mean {nearest}?"
            : all.Count is 0 or > 8 ? "Declare it, or use the module that does."
            : $"Write {Either(all)}.";
        return new(UnknownEntry, $"There is no {kind} called {name}.", fix, nearest);
    }

    public static Message Unknown(string kind, string name, string? nearest) =>
        new(
            UnknownEntry,
            $"There is no {kind} called {name}.",
            nearest is null ? "Declare it, or use the module that does." : $"Did you mean {nearest}?",
            nearest
        );

    public static Message Twice(string kind, string name) =>
        new(
            TwiceEntry,
            $"There is {A(kind)} {kind} called {name} already.",
            "Give one of the two another name."
        );

    public static Message Spelling(string name, string? better) =>
        new(
            SpellingEntry,
            $"{(name.Length <= 60 ? name : "This")} isn't spelt like a name.",
            better is null
                ? "Use the letters a to z, digits and hyphens, at most 60 of them."
                : $"Write {better}.",
            better
        );

    public static Message Hyphen(string wrong, string instead) =>
        new(
            HyphenEntry,
            $"There is no name {wrong}: a hyphen inside a name never subtracts.",
            $"Write {instead}.",
            instead
        );

    public static Message Sided(string task, string kind, string example) =>
        new(
            SidedEntry,
            $"{task} is given for more than one {kind}, so {task} alone says too little.",
            $"Write {example}, worst side of {task}, or every side of {task}."
        );

    public static Message WhichAnswer(string task, IReadOnlyList<string> answers) =>
        new(
            WhichAnswerEntry,
            $"{task} has {(answers.Count == 0 ? "no answer that can be used here" : "several answers")}.",
            answers.Count == 0
                ? "Name another task."
                : $"Write {string.Join(" or ", answers.Select(a => $"{task}.{a}"))}."
        );

    public static Message NoModule(string name, string? nearest) =>
        new(
            NoModuleEntry,
            $"There is no module called {name} beside this file or in the library.",
            nearest is null
                ? $"Put {name}.protocol beside this file, or correct the name."
                : $"Did you mean {nearest}?",
            nearest
        );

    public static Message Cycle(string path) =>
        new(
            CycleEntry,
            $"These modules use each other in a circle: {path}.",
            "Move what they share into a module of its own."
        );

    public static Message LongChain(int most) =>
        new(
            CycleEntry,
            $"More than {most} modules use each other in a row up to here.",
            "Put what belongs together into one module."
        );

    public static Message WrongFile(string name, bool wantsModule) =>
        new(
            WrongFileEntry,
            wantsModule
                ? $"{name} is a protocol, and only modules can be used by other files."
                : $"{name} is a module; it can't be built by itself.",
            wantsModule
                ? "Move what you need into a file that begins with module and its name."
                : "Name a protocol that uses it."
        );

    public static Message CutOffsTwice(string outcome) =>
        new(TwiceEntry, $"There are cut-offs of {outcome} already.", "Put all rows into one table.");

    public static Message Shared(string task, string name) =>
        new(
            TwiceEntry,
            $"{task} has two things called {name}: its answers, observations and sides may not share names.",
            "Give one of the two another name."
        );

    /// <param name="found">How many things it gets, in words.</param>
    public static Message Arguments(string family, string found, string wanted) =>
        new(
            ArgumentsEntry,
            $"The family {family} is handed {found} here; {(wanted.Length == 0 ? "it needs nothing" : "what it needs is: " + wanted)}.",
            wanted.Length == 0
                ? $"Write {family}()."
                : $"Write {family}(…) with a name, text or number for each: {wanted}."
        );

    public static Message ArgumentMissing(string word) =>
        new(UnknownEntry, $"A number belongs here, and {word} is none.", "Write the number in figures.");

    public static Message ArgumentKind(string parameter, string wanted) =>
        new(
            ArgumentsEntry,
            $"What is handed over for {parameter} must be {wanted} here.",
            $"Hand over {wanted}."
        );

    public static Message Placeholder(string name, IEnumerable<string> known)
    {
        var list = known.Order(StringComparer.Ordinal).ToList();
        var nearest = Suggest.Nearest(name, list);
        return new(
            PlaceholderEntry,
            $"Nothing fills {{{name}}} here.",
            nearest is not null ? $"Did you mean {{{nearest}}}?"
                : list.Count == 0 ? "Write the words themselves."
                : $"What can be filled here: {string.Join(", ", list.Select(k => $"{{{k}}}"))}.",
            nearest is null ? null : $"{{{nearest}}}"
        );
    }

    public static Message NotHere(string name, string isA, string wanted) =>
        new(NotHereEntry, $"{name} is {isA}, but {wanted} belongs here.", $"Write the name of {wanted}.");

    /// <param name="known">Answers of the task in numbers or points.</param>
    public static Message KeepBy(string task, string name, string? nearest, IReadOnlyList<string> known) =>
        new(
            UnknownEntry,
            $"{task} has no answer called {name} to keep a trial by, and there is no measure of this name.",
            nearest is not null ? $"Did you mean {nearest}?"
                : known.Count == 0 ? "Write the name of a measure of this task's answers, or keep first."
                : $"Write {Either(known)}, or the name of a measure of this task's answers.",
            nearest
        );

    public static Message NoBands(string answer) =>
        new(
            NotHereEntry,
            $"{answer} is answered with a number; only measures and scores with cut-offs have bands.",
            $"Compare it, as in {answer} = 2, or name a score."
        );

    public static Message BandInValue() =>
        new(
            NotHereEntry,
            "A measure or score can't ask for a band: bands are found after all values.",
            "Compare the value itself, as in lips-total <= 3, or ask for the band in an action."
        );

    public static Message NoSides(string task) =>
        new(
            PartEntry,
            $"{task} isn't given for sides, places, sounds or words.",
            "Write its name alone, or add each side right, left to the task."
        );

    public static Message Part(string task, string part, IReadOnlyList<string> known) =>
        new(
            PartEntry,
            $"{task} has nothing called {part}.",
            known.Count == 0 ? "Write its name alone." : $"It has {string.Join(", ", known)}.",
            Suggest.Nearest(part, known)
        );

    private static string Either(IReadOnlyList<string> words) =>
        words.Count == 1 ? words[0] : string.Join(", ", words.Take(words.Count - 1)) + " or " + words[^1];

    private static string A(string noun) => "aeiou".Contains(noun[0], StringComparison.Ordinal) ? "an" : "a";
}
