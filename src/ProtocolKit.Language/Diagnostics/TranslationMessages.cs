namespace ProtocolKit.Language.Diagnostics;

/// <summary>Files of translations. Their examples hold a protocol and, from the word translation on, the file beside it.</summary>
internal static class TranslationMessages
{
    private const string Protocol = "protocol tiny\n  title \"T\"\n  edition 1\n  ages 4;0 to 5;11\n";
    private const string Letter = "letter caregiver\n  \"Seen on {seen}.\"\n";
    private const string Header = "translation tiny to de\n  status unreviewed \"invented\"\n";
    private const string Title = "text \"T\"\n  becomes \"D\"\n";

    private static readonly Descriptor OtherProtocolEntry = new(
        "PK3061",
        Severity.Error,
        "A translation of another protocol",
        "A translation names the protocol it belongs to.",
        Protocol + "translation timy to de\n  status unreviewed \"invented\"\n" + Title,
        Protocol + Header + Title
    );

    private static readonly Descriptor UntranslatedEntry = new(
        "PK3062",
        Severity.Error,
        "A text that has no translation",
        "A form is given in one language. Every text of the protocol needs its translation, word for word as it stands now: a text that was changed has to be translated again.",
        Protocol + Header,
        Protocol + Header + Title
    );

    private static readonly Descriptor NoSuchTextEntry = new(
        "PK3063",
        Severity.Warning,
        "A translation of a text that isn't there",
        "The protocol doesn't have this text, or not any more. Where its words were changed, translate the new ones.",
        Protocol + Header + Title + "text \"Nowhere.\"\n  becomes \"Nirgends.\"\n",
        Protocol + Header + Title
    );

    private static readonly Descriptor PlaceholdersEntry = new(
        "PK3064",
        Severity.Error,
        "Other placeholders in the translation",
        "What is filled in is the same in every language: a translation holds the same placeholders in braces as its original, in any order. What stands after otherwise is translated.",
        Protocol + Letter + Header + Title + "text \"Seen on {seen}.\"\n  becomes \"Gesehen am {age}.\"\n",
        Protocol + Letter + Header + Title + "text \"Seen on {seen}.\"\n  becomes \"Gesehen am {seen}.\"\n"
    );

    public static Message OtherProtocol(string named, string protocol) =>
        new(
            OtherProtocolEntry,
            $"This is a translation of {named}, not of {protocol}.",
            $"Write translation {protocol} to …, or choose the other file."
        );

    public static Message OtherLanguage(string named, string wanted) =>
        new(
            OtherProtocolEntry,
            $"This is a translation to {named}, not to {wanted}.",
            $"Write to {wanted}, or give the file the name of its language."
        );

    public static Message Untranslated(string text, string where) =>
        new(
            UntranslatedEntry,
            $"No translation of \"{Shorten(text)}\"{(where.Length == 0 ? "" : $" (at {where})")}.",
            $"Add the line text \"{Shorten(text)}\" and under it becomes \"…\""
        );

    public static Message MoreUntranslated(int count) =>
        new(UntranslatedEntry, $"{count} further texts have no translation.", "Translate those above first.");

    public static Message NoSuchText(string text, string? nearest) =>
        new(
            NoSuchTextEntry,
            $"The protocol has no text \"{Shorten(text)}\".",
            nearest is null ? "Take it out." : $"Perhaps it says now: \"{Shorten(nearest)}\""
        );

    public static Message OtherPlaceholders(string wanted, string found) =>
        new(
            PlaceholdersEntry,
            $"The original has {wanted}, its translation {found}.",
            "Write the same placeholders as in the original."
        );

    private static string Shorten(string text) =>
        (text.Length <= 80 ? text : text[..77] + "…").ReplaceLineEndings(" ");
}
