using System.Globalization;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using Sides = System.Collections.Generic.IReadOnlyList<System.Collections.Generic.IReadOnlyList<ProtocolKit.Emit.Paper.Cards.CardBlock>>;

namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>Cards of a quarter sheet: in front what is said and shown, behind how it is rated and when to stop.</summary>
public sealed class CueCards : IOutput
{
    private static readonly IReadOnlyList<CardBlock> Nothing =
    [
        CardTexts.Line("", "Nothing more on this side."),
    ];

    public string Kind => "cue-cards";

    public string Purpose => "cards with the words to say, printed on both sides and cut in four";

    public IReadOnlyList<Artefact> Render(
        Protocol protocol,
        OutputOptions options,
        TemplateSource templates
    ) =>
        [
            new(
                "cue-cards.html",
                TemplateRenderer.Html(templates, "cue-cards/cards.html", View(protocol, options)),
                true
            ),
        ];

    internal static CardsView View(Protocol protocol, OutputOptions options)
    {
        var paper = PaperGeometry.Of(options.Paper);
        return new(
            protocol.Language,
            protocol.Title,
            protocol.Edition,
            options.ShortForm ? "Short form" : "",
            Words.Grouped(protocol.Fingerprints.Form),
            CardMetrics.View(paper),
            CardPages.Of(Cards(protocol, options, paper), options.ShortEdge)
        );
    }

    private static List<Card> Cards(Protocol protocol, OutputOptions options, PaperGeometry paper) =>
        [
            .. Flowing("take-care", "Take care", GeneralCards.Cautions(protocol), paper),
            CodesCard(),
            .. TaskViews.Given(protocol, options).SelectMany(t => OfTask(t, protocol, paper)),
        ];

    private static IEnumerable<Card> OfTask(ProtocolTask task, Protocol protocol, PaperGeometry paper)
    {
        var title = Shortened(task.Title);
        var room = CardMetrics.Room(paper, title);
        var (fronts, backs) = Sides(task, protocol, CardMetrics.TextWidth(paper), room);
        var cards = Math.Max(fronts.Count, backs.Count);
        var number = task.Number.ToString(CultureInfo.InvariantCulture);
        var touches = task.Contact != Contact.None;
        CardSideView Side(bool front, IReadOnlyList<IReadOnlyList<CardBlock>> sides, int i) =>
            new(
                task.Name,
                front,
                number,
                title,
                Part(i, cards),
                Words.Of(task.Contact),
                touches,
                i < sides.Count ? sides[i] : Nothing
            );
        return Enumerable.Range(0, cards).Select(i => new Card(Side(true, fronts, i), Side(false, backs, i)));
    }

    /// <summary>What to look for goes where it costs no further card, in front if it may.</summary>
    private static (Sides Fronts, Sides Backs) Sides(
        ProtocolTask task,
        Protocol protocol,
        double width,
        double room
    )
    {
        var front = CardTexts.Front(task);
        var back = CardTexts.Back(task, protocol);
        var look = CardTexts.LookFor(task);
        var inFront = (
            CardPacking.Pack([.. front, .. look], width, room),
            CardPacking.Pack(back, width, room)
        );
        var behind = (
            CardPacking.Pack(front, width, room),
            CardPacking.Pack([.. back, .. look], width, room)
        );
        return Count(inFront) <= Count(behind) ? inFront : behind;
    }

    private static int Count((Sides Fronts, Sides Backs) sides) =>
        Math.Max(sides.Fronts.Count, sides.Backs.Count);

    private static Card CodesCard() =>
        new(
            new("codes", true, "", "Codes", "", "", false, GeneralCards.Codes()),
            new("codes", false, "", "Codes", "", "", false, GeneralCards.RulesOfCodes())
        );

    /// <summary>A text of one flow: it goes on behind the card, then on the next card.</summary>
    private static IEnumerable<Card> Flowing(
        string name,
        string title,
        IReadOnlyList<CardBlock> blocks,
        PaperGeometry paper
    )
    {
        var sides = CardPacking.Pack(blocks, CardMetrics.TextWidth(paper), CardMetrics.Room(paper, title));
        var cards = (sides.Count + 1) / 2;
        CardSideView Side(int i) =>
            new(
                name,
                i % 2 == 0,
                "",
                title,
                Part(i / 2, cards),
                "",
                false,
                i < sides.Count ? sides[i] : Nothing
            );
        return Enumerable.Range(0, cards).Select(i => new Card(Side(2 * i), Side((2 * i) + 1)));
    }

    private static string Part(int i, int cards) =>
        cards == 1 ? "" : string.Create(CultureInfo.InvariantCulture, $"{i + 1} of {cards}");

    private static string Shortened(string title) =>
        title.Length <= CardMetrics.LongestTitle ? title : title[..CardMetrics.LongestTitle].TrimEnd() + "…";
}
