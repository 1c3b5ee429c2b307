namespace ProtocolKit.Language.Diagnostics;

/// <summary>Letters, notes and passages, editions, ages and languages, of several stages.</summary>
internal static class ReportMessages
{
    private static readonly Descriptor AudienceEntry = new(
        "PK3060",
        Severity.Error,
        "A reader nobody knows",
        "A text is for the caregiver, for the team, or for the team alone (team-only). Letters are for the caregiver.",
        "note parents\n  \"Seen on {seen}.\"\n",
        "letter caregiver\n  \"Seen on {seen}.\"\n"
    );

    private static readonly Descriptor OwnLanguageEntry = new(
        "PK4060",
        Severity.Error,
        "A translation into a language that is there already",
        "Translations are into other languages than the one that is spoken, each named once.",
        "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n  spoken en\n  translations en\n",
        "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n  spoken en\n  translations de\n"
    );

    private static readonly Descriptor NeverCorrectedEntry = new(
        "PK4061",
        Severity.Error,
        "Ages that are never corrected",
        "Ages are corrected for prematurity while a child is younger than the age stated. Where no child of the protocol is that young, the line says nothing.",
        "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n  ages corrected for prematurity until 2;0\n",
        "protocol tiny\n  title \"T\"\n  edition 1\n  ages 1;0 to 5;11\n  ages corrected for prematurity until 2;0\n"
    );

    private static readonly Descriptor ReTestEntry = new(
        "PK4062",
        Severity.Error,
        "Figures of a re-test that contradict each other",
        "An error of measurement lies within its own interval, and a time between sittings runs from the shorter to the longer.",
        "task a item(three)\nscore t \"T\" = 1 * a\nre-test t\n  error 1.6 \"invented\", n 40, interval 2 to 3\n",
        "task a item(three)\nscore t \"T\" = 1 * a\nre-test t\n  error 1.6 \"invented\", n 40, interval 1 to 3\n"
    );

    private static readonly Descriptor NotInLettersEntry = new(
        "PK5060",
        Severity.Error,
        "A text of the team in a letter",
        "What is meant for the team, or for the team alone, can't stand in a letter to a family, not even by way of a passage.",
        "passage doubts team-only\n  \"The second rater was unsure.\"\nletter caregiver\n  \"Seen on {seen}. {doubts}\"\n",
        "passage thanks caregiver\n  \"Thank you for coming.\"\nletter caregiver\n  \"Seen on {seen}. {thanks}\"\n"
    );

    private static readonly Descriptor OwnParagraphEntry = new(
        "PK5061",
        Severity.Error,
        "A text for the team alone in the middle of another",
        "A note for the team is handed on without what is for the team alone. That can be left out only where it stands in a paragraph of its own.",
        "passage doubts team-only\n  \"The second rater was unsure.\"\nnote team\n  \"Seen on {seen}. {doubts}\"\n",
        "passage doubts team-only\n  \"The second rater was unsure.\"\nnote team\n  \"Seen on {seen}.\"\n  \"{doubts}\"\n"
    );

    private static readonly Descriptor MissingEntry = new(
        "PK5062",
        Severity.Warning,
        "A placeholder without an alternative",
        "Not every record has this. Say what is written where it is missing, or the sentence will have a hole.",
        "letter caregiver\n  \"Ask for {examiner}.\"\n",
        "letter caregiver\n  \"Ask for {examiner otherwise the clinic}.\"\n"
    );

    public static Message UnknownAudience(string word) =>
        new(AudienceEntry, $"Nobody is called {word} here.", "Write caregiver, team or team-only.");

    public static Message OwnLanguage(string language) =>
        new(
            OwnLanguageEntry,
            $"{language} is the spoken language itself, or named twice.",
            "Name each further language once."
        );

    public static Message NeverCorrected(string until, string youngest) =>
        new(
            NeverCorrectedEntry,
            $"No child of this protocol is younger than {until}: its ages begin at {youngest}.",
            "Take the line out, or write a later age."
        );

    public static Message ReTest(string what, string fix) => new(ReTestEntry, what, fix);

    public static Message NotInLetters(string what) =>
        new(
            NotInLettersEntry,
            $"{what} can't stand in a letter to a caregiver.",
            "Move it into the team's note, or write it for caregivers."
        );

    public static Message OwnParagraph(string passage) =>
        new(
            OwnParagraphEntry,
            $"The passage {passage} is for the team alone, and this paragraph isn't.",
            $"Give it a paragraph of its own: \"{{{passage}}}\""
        );

    public static Message MayBeMissing(string placeholder) =>
        new(
            MissingEntry,
            $"A record may have nothing for {{{placeholder}}}.",
            $"Write what stands there then: {{{placeholder} otherwise …}}"
        );
}
