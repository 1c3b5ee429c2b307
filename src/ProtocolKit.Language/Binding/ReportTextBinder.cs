using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Letters, notes and passages: every placeholder is one that can be filled, no score reaches a letter, and no text
/// reaches readers it isn't meant for.
/// </summary>
internal sealed class ReportTextBinder(Declarations declared, DiagnosticBag diagnostics)
{
    private const string Scores = "scores in words";

    private readonly Dictionary<string, (ReportText Text, ReportTextBlock Block)> _passages = new(
        StringComparer.Ordinal
    );

    public IReadOnlyList<ReportText> Bind()
    {
        var symbols = new Symbols<ReportTextBlock>("passage", diagnostics);
        foreach (var block in declared.Texts.Where(b => b.Name is not null))
        {
            if (symbols.Declare(block.Name!, block.Source, block))
            {
                _passages[block.Name!.Text] = (Bind(block, ReportKind.Piece), block);
            }
        }

        return
        [
            .. declared
                .Texts.Where(b => b.Name is null)
                .Select(b => Bind(b, b.Keyword.Text == "letter" ? ReportKind.Letter : ReportKind.Note)),
            .. _passages.Values.Select(p => p.Text),
        ];
    }

    private ReportText Bind(ReportTextBlock block, ReportKind kind)
    {
        var audience = AudienceOf(block, kind);
        if (block.Paragraphs.Count == 0 && !block.Incomplete)
        {
            diagnostics.Report(
                block.Source,
                block.Place,
                MeaningMessages.Missing(
                    "This text is empty.",
                    "Write its paragraphs under it, each in quotes."
                )
            );
        }

        var text = new ReportText(
            kind,
            block.Name?.Text ?? "",
            audience,
            [
                .. block.Paragraphs.Select(p => new WrittenParagraph(
                    AudienceOf(p, kind, audience),
                    p.Text.Text
                )),
            ],
            block.Source.OriginOf(block.Place)
        );
        foreach (var (line, paragraph) in block.Paragraphs.Zip(text.Paragraphs))
        {
            Check(line, kind, paragraph.Audience);
        }

        return ReportParts.In(text, name => _passages.GetValueOrDefault(name).Text);
    }

    private Audience AudienceOf(ReportTextBlock block, ReportKind kind)
    {
        var wanted = Audiences.Of(block.Audience.Text);
        if (wanted is { } audience && (kind != ReportKind.Letter || audience == Audience.Caregiver))
        {
            return audience;
        }

        diagnostics.Report(
            block.Source,
            block.Audience.Place,
            wanted is null
                ? ReportMessages.UnknownAudience(block.Audience.Text)
                : ReportMessages.NotInLetters($"A text for {block.Audience.Text}")
        );
        return kind == ReportKind.Letter ? Audience.Caregiver : Audience.TeamOnly;
    }

    /// <summary>A paragraph may be for a narrower circle than the whole, never for a wider one.</summary>
    private Audience AudienceOf(TextOnlyLine line, ReportKind kind, Audience whole)
    {
        var own = Audiences.Of(line.Audience?.Text) ?? whole;
        if (kind == ReportKind.Letter && own != Audience.Caregiver)
        {
            diagnostics.Report(
                line.Source,
                line.Audience!.Place,
                ReportMessages.NotInLetters($"A paragraph for {line.Audience.Text}")
            );
        }

        return own > whole ? own : whole;
    }

    private void Check(TextOnlyLine line, ReportKind kind, Audience audience)
    {
        var holes = new List<string>();
        foreach (var part in ReportParts.Split(line.Text.Text).Where(p => p.IsPlaceholder))
        {
            if (Passage(part, kind) is { } passage)
            {
                Check(passage, line, kind, audience);
            }
            else if (Placeholders.Find(part.Text) is not { } placeholder)
            {
                diagnostics.Report(
                    line.Source,
                    PlaceholderPlaces.Of(line.Source, line.Text, part.Text),
                    NameMessages.Placeholder(part.Text, Known(kind, audience))
                );
            }
            else if (!placeholder.InLetters && (kind == ReportKind.Letter || audience == Audience.Caregiver))
            {
                diagnostics.Report(
                    line.Source,
                    PlaceholderPlaces.Of(line.Source, line.Text, part.Text),
                    CareMessages.LetterScores(part.Text)
                );
            }
            else if (placeholder.MayBeMissing && part.Otherwise is null)
            {
                holes.Add(part.Text);
            }
        }

        // What is wrong in the line comes first.
        if (!diagnostics.HasErrorOn(line.Source, line.Text.Place.Line))
        {
            holes.ForEach(h =>
                diagnostics.Report(
                    line.Source,
                    PlaceholderPlaces.Of(line.Source, line.Text, h),
                    ReportMessages.MayBeMissing(h)
                )
            );
        }
    }

    /// <summary>A passage may stand in a letter or a note, not in another passage.</summary>
    private (ReportText Text, ReportTextBlock Block)? Passage(TextPart part, ReportKind kind) =>
        kind != ReportKind.Piece && _passages.TryGetValue(part.Text, out var passage) ? passage : null;

    private void Check(
        (ReportText Text, ReportTextBlock Block) passage,
        TextOnlyLine line,
        ReportKind kind,
        Audience audience
    )
    {
        var narrowest = passage.Text.Parts.Select(p => p.Audience).Append(passage.Text.Audience).Max();
        if (narrowest <= audience || (kind == ReportKind.Note && narrowest != Audience.TeamOnly))
        {
            return;
        }

        // A note for the team may hold a paragraph for the team alone: it is left out of what is handed on.
        if (kind == ReportKind.Note && ReportParts.Split(line.Text.Text) is [{ IsPlaceholder: true }])
        {
            return;
        }

        diagnostics.Report(
            line.Source,
            PlaceholderPlaces.Of(line.Source, line.Text, passage.Text.Name),
            kind == ReportKind.Letter
                ? ReportMessages.NotInLetters($"The passage {passage.Text.Name}")
                : ReportMessages.OwnParagraph(passage.Text.Name),
            new Related(
                passage.Block.Source,
                passage.Block.Audience.Place,
                $"Here it is said whom it is for."
            )
        );
    }

    /// <summary>What may stand here; nothing for a narrower circle is suggested.</summary>
    private IEnumerable<string> Known(ReportKind kind, Audience audience) =>
        Placeholders
            .All.Where(p => p.InLetters || (kind != ReportKind.Letter && audience != Audience.Caregiver))
            .Select(p => p.Name)
            .Concat(
                kind == ReportKind.Piece
                    ? []
                    : _passages.Values.Where(p => p.Text.Audience <= audience).Select(p => p.Text.Name)
            );
}
