namespace ProtocolKit.Workspace.Worksheets;

/// <summary>
/// Words that carry content, by their stems. A plain rule of our own, on the careful side: short and joining words are passed
/// over, a few English endings are cut off, and two words that begin alike over five letters or more count as one.
/// </summary>
internal static class ContentWords
{
    private const int LongestAlike = 5;

    private static readonly HashSet<string> Passed = new(
        (
            "a about above after again all alone along also although always an and another any are as asked at away back be been before "
            + "being below between both but by can can't come comes could did do does done down each either else end ends enough even "
            + "every few first for from get gets go goes had has have having he her here him his how however if in into is isn't it "
            + "its itself last least let lets less like made make makes many may me might more most much must my neither never no nor not nothing "
            + "now of off on once one only onto or other others our out over own part quite rather same say see she should so some "
            + "something stand still such take takes than that the their them then there these they this those though through time to "
            + "too two three toward towards under until up upon us use very was way we well were what when where whether which while "
            + "who whole whose why will with within without would yes yet you your yourself"
        ).Split(' '),
        StringComparer.Ordinal
    );

    private static readonly string[] Endings =
    [
        "ingly",
        "edly",
        "ings",
        "ing",
        "ied",
        "ies",
        "ed",
        "ly",
        "es",
        "s",
        "e",
    ];

    /// <summary>The words of the first text that the second has too.</summary>
    public static IReadOnlyList<string> Shared(string text, string other)
    {
        var stems = Words(other).Select(Stem).ToList();
        return
        [
            .. Words(text).Where(w => stems.Exists(s => Alike(s, Stem(w)))).Distinct(StringComparer.Ordinal),
        ];
    }

    private static IEnumerable<string> Words(string text) =>
        text.ToLowerInvariant()
            .Split([.. " .,;:!?“”\"'()–-/\n".ToCharArray()], StringSplitOptions.RemoveEmptyEntries)
            .Where(w => w.Length > 2 && !Passed.Contains(w));

    private static string Stem(string word)
    {
        var ending = Array.Find(
            Endings,
            e => word.Length - e.Length >= 3 && word.EndsWith(e, StringComparison.Ordinal)
        );
        return ending is null ? word : word[..^ending.Length];
    }

    private static bool Alike(string a, string b) =>
        a == b
        || (
            Math.Min(a.Length, b.Length) >= LongestAlike
            && a.AsSpan(0, LongestAlike).SequenceEqual(b.AsSpan(0, LongestAlike))
        );
}
