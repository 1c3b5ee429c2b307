using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>The duties again, in a family's words. Common practice, no source.</summary>
internal static class CaregiverTexts
{
    public static IReadOnlyList<string> Before { get; } =
    [
        "This is a short look, to see whether a longer one is needed. It makes no diagnosis. It can miss a child "
            + "who needs help, and it can worry a family for nothing.",
        "It shows how lips, tongue and jaw move and feel. That says little about how a child talks.",
        "Your child is asked before each touch. We stop when your child turns away, cries, or has had enough.",
        "A loose tooth, bleeding, seizures, a recent operation or trouble with swallowing: please tell us. The mouth "
            + "is then not touched until a clinician who knows your child has agreed.",
        "More than one language at home: tell us which your child knows best. An interpreter can be there.",
    ];

    /// <summary>What a family reads after the sitting, by the name of the passage that may stand in for it.</summary>
    public static IReadOnlyList<(string Name, string Text)> After { get; } =
    [
        (
            LetterSentences.Limits,
            "This was a short look, to see whether a longer one is needed. It makes no diagnosis. It can miss a child "
                + "who needs help, and it can worry a family for nothing."
        ),
        (
            LetterSentences.Speech,
            "It shows how lips, tongue and jaw move and feel. That says little about how a child talks."
        ),
        (
            LetterSentences.Languages,
            "More than one language at home: tell us which your child knows best. An interpreter can be there."
        ),
    ];

    public const string Agreement =
        "Your child is asked too, before each touch. A no, turning away or tears end it, whatever stands on this page.";

    public const string Sign = "Day, name and signature";

    public const string CallToday =
        "Don’t wait for the appointment when you see a new droop in the face, when your child loses something already "
        + "learnt, has new trouble swallowing or breathing, or bleeds from the mouth without a cause: call a doctor the "
        + "same day. A tongue that gets thin or flickers should be seen soon, too.";

    public static IReadOnlyList<string> Consents { get; } =
    [
        "I agree that my child is looked at, asked to move and speak, and touched on the face.",
        "I agree that my child’s mouth is touched, with clean gloves and single-use things.",
        "I agree that sound and pictures are recorded.",
        "I agree that the answers are used, without a name, to study this screen.",
    ];
}
