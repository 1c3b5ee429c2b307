namespace ProtocolKit.Language.Diagnostics;

/// <summary>Stage 4, of scores: what is made up for, looked up, compared between sides, or had with help.</summary>
internal static class ScoreMessages
{
    private const string Section =
        "section s \"S\"\n  task a item(three)\n  task b item(three)\nscore t \"T\"\n";

    private static readonly Descriptor ScaledEntry = new(
        "PK4045",
        Severity.Error,
        "Untried parts that can't be made up for",
        "Scaling up works out what a sum would have come to from the points of the parts that were tried. So it goes with add up, and at least one part must have been tried.",
        Section + "  add up rate of every task in s\n  untried scaled up, at most 2\n",
        Section + "  add up rate of every task in s\n  untried scaled up, at most 1\n"
    );

    public static Message ScaledFormula(string name) =>
        new(
            ScaledEntry,
            $"{name} isn't a sum, so nothing in it can be scaled up.",
            "Scale up a score that begins with add up, and use that one here; or write untried blocks."
        );

    public static Message ScaledFromNothing(string name, int atMost, int parts) =>
        new(
            ScaledEntry,
            $"{name} has {parts} {(parts == 1 ? "part" : "parts")}, so {(atMost == 1 ? "1 untried one leaves" : $"{atMost} untried ones could leave")} nothing to scale up from.",
            parts > 1 ? $"Write at most {parts - 1}, or fewer." : "Write untried blocks."
        );
}
