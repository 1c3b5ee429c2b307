using ProtocolKit.Model;

namespace ProtocolKit.Emit.Manual;

/// <summary>What holds for the scoring of every protocol, in an examiner's words.</summary>
internal static class ManualTexts
{
    public static IReadOnlyList<string> Scoring { get; } =
    [
        "Age is counted in completed months on the day the child is first seen; 4;0 to 5;11 includes the day before the sixth birthday.",
        "What a child does without help is what counts, unless a task names what help costs. What comes of help is written down beside it.",
        "Where a task is tried several times, one whole trial is kept, or a mean, median or sum is formed, as the task says.",
        "An attempt without any movement is the lowest level, never a code. A code says why nothing could be rated, and is never a zero.",
        "An answer that was not tried leaves a score open between two ends. A band stands only when every value between them lies in it; otherwise it is undecided, and undecided is never read as fine.",
        "A task that the rules leave out counts as its rule says; that is not the same as untried.",
        "A line with a step rounds once, half up, and later lines read the rounded value. Nothing else is rounded.",
    ];

    /// <summary>What each code means, by its letter on the sheet.</summary>
    public static IEnumerable<CodeMeaningView> Codes() =>
        Paper.Cards.GeneralCards.Codes().Select(b => new CodeMeaningView(b.Mark, b.Text));

    public static IReadOnlyList<string> ProofLimits { get; } =
    [
        "A proof is about the text of this protocol: every possible record, counted out by a program. It says nothing about children, and no evidence comes from it.",
        "What could not be decided within the time allowed is listed as not proved. It may hold or fail.",
    ];

    public const string NothingProved =
        "Nothing was proved for this print. Check the protocol, then print it again.";

    public static string ShortForm(Protocol protocol) =>
        protocol.HasShortForm ? $"full and short ({protocol.ShortFormMinutes} min)" : "one form";
}
