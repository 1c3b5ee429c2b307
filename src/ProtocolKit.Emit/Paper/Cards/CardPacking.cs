namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>
/// Spreads blocks over as many sides as they need. Nothing is ever cut off: what doesn't fit goes on to
/// the next side, and a text taller than a side is split between lines.
/// </summary>
internal sealed class CardPacking(double width, double height)
{
    private readonly List<List<CardBlock>> _sides =
    [
        [],
    ];
    private double _used;

    /// <summary>The blocks of each side; at least one side, which may be empty.</summary>
    /// <param name="width">Room for text, in millimetres.</param>
    /// <param name="height">Room below the heading, in millimetres.</param>
    public static IReadOnlyList<IReadOnlyList<CardBlock>> Pack(
        IReadOnlyList<CardBlock> blocks,
        double width,
        double height
    )
    {
        var packing = new CardPacking(width, height);
        for (var i = 0; i < blocks.Count; i++)
        {
            // A heading at the foot of a side would announce nothing.
            var next =
                blocks[i].Kind == CardBlockKind.Heading && i + 1 < blocks.Count
                    ? packing.Least(blocks[i + 1])
                    : 0;
            packing.Place(blocks[i], next);
        }

        return packing._sides;
    }

    public static double HeightOf(CardBlock block, double width) =>
        CardMetrics.Height(LinesOf(block, width).Count, SizeOf(block)) + Extra(block) + CardMetrics.Gap;

    private void Place(CardBlock block, double next)
    {
        var needed = HeightOf(block, width);
        if (_used + needed + next <= height)
        {
            Put(block, needed);
        }
        else if (needed + next <= height)
        {
            NextSide();
            Put(block, needed);
        }
        else
        {
            Split(block);
        }
    }

    private void Split(CardBlock block)
    {
        var lines = LinesOf(block, width);
        while (lines.Count > 0)
        {
            var room = LinesThatFit(block, height - _used);
            if (room < Math.Min(2, lines.Count))
            {
                NextSide();
                room = Math.Max(1, LinesThatFit(block, height));
            }

            var piece = Piece(block, string.Join(' ', lines.Take(room)));
            Put(piece, HeightOf(piece, width));
            lines = lines.Skip(room).ToList();
            block = block.Kind == CardBlockKind.Line ? block with { Mark = "" } : block;
            if (lines.Count > 0)
            {
                NextSide();
            }
        }
    }

    private void Put(CardBlock block, double needed)
    {
        _sides[^1].Add(block);
        _used += needed;
    }

    private void NextSide()
    {
        if (_sides[^1].Count > 0)
        {
            _sides.Add([]);
        }

        _used = 0;
    }

    /// <summary>What must fit below a heading: all of the next text, or two lines of one that is split anyway.</summary>
    private double Least(CardBlock block)
    {
        var needed = HeightOf(block, width);
        return needed <= height ? needed : CardMetrics.Height(2, SizeOf(block)) + CardMetrics.Gap;
    }

    private static int LinesThatFit(CardBlock block, double room) =>
        (int)((room - CardMetrics.Gap - Extra(block)) / CardMetrics.Height(1, SizeOf(block)));

    /// <summary>A line's label is part of what was wrapped; where it comes first it is a label again.</summary>
    private static CardBlock Piece(CardBlock block, string text) =>
        block.Kind != CardBlockKind.Line || block.Mark.Length == 0 ? block with { Text = text }
        : text.StartsWith(block.Mark + " ", StringComparison.Ordinal)
            ? block with
            {
                Text = text[(block.Mark.Length + 1)..],
            }
        : block with { Mark = "", Text = text };

    private static List<string> LinesOf(CardBlock block, double width) =>
        block.Kind switch
        {
            CardBlockKind.Item => Wrap(
                block.Text,
                SizeOf(block),
                width - CardMetrics.HangOf(block.Mark),
                false
            ),
            CardBlockKind.Line when block.Mark.Length == 0 => Wrap(block.Text, SizeOf(block), width, false),
            // A label is bold and stands in the text; counting all of it as bold is never too short.
            CardBlockKind.Line => Wrap($"{block.Mark} {block.Text}", SizeOf(block), width, true),
            _ => Wrap(block.Text, SizeOf(block), width, true),
        };

    private static List<string> Wrap(string text, double size, double width, bool bold) =>
        text.Split('\n').SelectMany(p => TextMeasure.Wrap(p, size, width, bold)).ToList();

    private static double SizeOf(CardBlock block) =>
        block.Kind == CardBlockKind.Say ? CardMetrics.SpokenSize : CardMetrics.TextSize;

    private static double Extra(CardBlock block) => block.Kind == CardBlockKind.Heading ? 0.6 : 0;
}
