namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>A card with its two sides; either may be missing its text, never its place.</summary>
internal sealed record Card(CardSideView Front, CardSideView Back);

/// <summary>
/// Places four cards on a sheet so that each back lies behind its front when the sheet is turned over
/// its long edge, as a page of a book, or over its short edge, as a page of a notepad.
/// </summary>
internal static class CardPages
{
    // Places are counted row by row: 0 and 1 above, 2 and 3 below.
    private static readonly int[] BehindLongEdge = [1, 0, 3, 2];
    private static readonly int[] BehindShortEdge = [2, 3, 0, 1];

    public static IReadOnlyList<CardPageView> Of(IReadOnlyList<Card> cards, bool shortEdge) =>
        cards.Chunk(4).SelectMany(four => Sheet(four, shortEdge ? BehindShortEdge : BehindLongEdge)).ToList();

    private static CardPageView[] Sheet(Card[] four, int[] behind)
    {
        var fronts = new CardSideView?[4];
        var backs = new CardSideView?[4];
        for (var i = 0; i < four.Length; i++)
        {
            fronts[i] = four[i].Front;
            backs[behind[i]] = four[i].Back;
        }

        return [new(true, fronts), new(false, backs)];
    }
}
