namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 5: whether the protocol can be given, and safely.</summary>
internal static class CareMessages
{
    private static readonly Descriptor UncoveredTouchEntry = new(
        "PK5001",
        Severity.Error,
        "A touch that no caution covers",
        "Whatever touches a child's face or mouth must be covered by a caution for that contact, which is then printed with the task.",
        "task a item(three)\n  contact face\n",
        "caution hands \"Clean hands first.\"\n  for contact face\ntask a item(three)\n  contact face\n"
    );

    private static readonly Descriptor UnusedMaterialEntry = new(
        "PK5002",
        Severity.Warning,
        "A material no task needs",
        "The materials list is packed before a sitting. What no task needs shouldn't be on it.",
        "material ruler \"Ruler\"\ntask a item(three)\n",
        "material ruler \"Ruler\"\ntask a item(three)\n  needs ruler\n"
    );

    private static readonly Descriptor IdleCautionEntry = new(
        "PK5003",
        Severity.Warning,
        "A caution that covers nothing",
        "The caution is for a contact or a material that no task has.",
        "caution hands \"Clean hands first.\"\n  for contact mouth\ntask a item(three)\n",
        "caution hands \"Clean hands first.\"\ntask a item(three)\n"
    );

    private static readonly Descriptor LongSpokenEntry = new(
        "PK5004",
        Severity.Warning,
        "A long spoken line",
        "A four-year-old follows one action in at most twelve words. Common practice, no source.",
        "task a\n  say \"One two three four five six seven eight nine ten eleven twelve thirteen.\"\n  rate three\n",
        "task a\n  say \"Open wide.\"\n  rate three\n"
    );

    private static readonly Descriptor UnreadEntry = new(
        "PK5005",
        Severity.Warning,
        "An answer nothing reads",
        "No measure, score or rule reads this answer. If it is only to be described, mark it, its section or its observation as qualitative.",
        "task a item(three)\n",
        "section s \"S\", qualitative\n  task a item(three)\n"
    );

    private static readonly Descriptor LetterEntry = new(
        "PK5006",
        Severity.Error,
        "A score in a caregiver's letter",
        "Letters to caregivers tell what was seen in plain words. Scores stay in the team's note.",
        "letter caregiver\n  \"{scores in words}\"\n",
        "note team\n  \"{scores in words}\"\n"
    );

    private static readonly Descriptor NoAnswerEntry = new(
        "PK5007",
        Severity.Warning,
        "A task that records nothing",
        "The task asks for no answer and no observation, so nothing of it would be kept.",
        "task a\n  say \"Open.\"\n",
        "task a item(three)\n"
    );

    private static readonly Descriptor NoHelpEntry = new(
        "PK5045",
        Severity.Error,
        "Help where none may be given",
        "A hint spoils what is measured where a child answers to a touch, or works against the clock. Such a task has no ladder of help.",
        "task a\n  time length in s, step 0.1, 0.5 to 15\n  help said again\nmeasure m = a\n",
        "task a\n  time length in s, step 0.1, 0.5 to 15\n  repeat \"the words, once\"\nmeasure m = a\n"
    );

    /// <param name="senses">It senses a touch; else it is timed.</param>
    public static Message NoHelp(string task, bool senses) =>
        new(
            NoHelpEntry,
            senses
                ? $"{task} is about what the child feels, so no help may be given."
                : $"{task} is timed, so no help may be given.",
            "Remove the help line; what may be said again before it begins stands in a repeat line."
        );

    public static Message UncoveredTouch(string what, string contact) =>
        new(
            UncoveredTouchEntry,
            $"{what} touches the child's {contact}, and no caution covers that.",
            $"Add a caution with the line: for contact {contact}"
        );

    public static Message UnusedMaterial(string name) =>
        new(
            UnusedMaterialEntry,
            $"No task needs {name}.",
            $"Add needs {name} to the task that does, or remove it."
        );

    public static Message IdleCaution(string name) =>
        new(
            IdleCautionEntry,
            $"The caution {name} covers nothing in this protocol.",
            "Remove it, or correct what it is for."
        );

    public static Message LongSpoken(int words) =>
        new(
            LongSpokenEntry,
            $"This spoken line has {words} words.",
            "Say one action in at most twelve words."
        );

    public static Message Unread(string answer) =>
        new(
            UnreadEntry,
            $"Nothing reads {answer}.",
            "Use it in a measure, score or rule, or mark it qualitative."
        );

    public static Message LetterScores(string placeholder) =>
        new(
            LetterEntry,
            $"{{{placeholder}}} can't stand in a caregiver's letter.",
            "Move it into the team's note."
        );

    public static Message NoAnswer(string task) =>
        new(
            NoAnswerEntry,
            $"{task} asks for no answer and no observation.",
            "Add a rate, count, choice or tick line, or remove the task."
        );
}
