using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Puts a translation's texts in the place of the protocol's own. Every text needs one, word for word as it stands now, so a
/// text that was changed is never given in its old translation.
/// </summary>
internal sealed class TranslationBinder(
    Protocol original,
    SourceText source,
    IReadOnlyList<Statement> statements,
    DiagnosticBag diagnostics
)
{
    private const int MostMissingTold = 20;
    private const int LongestSpoken = 12;

    private readonly Dictionary<(string Text, string Task), Entry> _entries = [];
    private readonly List<(string Text, string Where)> _missing = [];
    private readonly HashSet<string> _sought = new(StringComparer.Ordinal);

    /// <param name="language">The language asked for; null: the one the file names.</param>
    public Protocol? Bind(string? language)
    {
        if (Header() is not { } header)
        {
            return null;
        }

        CheckHeader(header, language);
        if (header.Protocol.Text != original.Name)
        {
            // Its texts are another protocol's: none of them would be found.
            return null;
        }

        foreach (var entry in statements.OfType<TextEntry>())
        {
            Declare(entry);
        }

        var translated = new ProtocolTexts(Translate).Map(original);
        TellMissing(header);
        TellUnused();
        return diagnostics.HasErrors ? null : Finish(translated, header);
    }

    private TranslationHeader? Header()
    {
        if (statements.OfType<TranslationHeader>().FirstOrDefault() is { } header)
        {
            return header;
        }

        if (!diagnostics.HasErrors)
        {
            diagnostics.Report(
                source,
                new Place(1, 1, 0),
                MeaningMessages.Missing(
                    "Nothing says what this is a translation of.",
                    $"Begin the file with: translation {original.Name} to …"
                )
            );
        }

        return null;
    }

    private void CheckHeader(TranslationHeader header, string? language)
    {
        if (header.Protocol.Text != original.Name)
        {
            Report(
                header,
                header.Protocol.Place,
                TranslationMessages.OtherProtocol(header.Protocol.Text, original.Name)
            );
        }

        if (language is not null && header.Language.Text != language)
        {
            Report(
                header,
                header.Language.Place,
                TranslationMessages.OtherLanguage(header.Language.Text, language)
            );
        }

        if (header.Language.Text == original.Language)
        {
            Report(header, header.Language.Place, ReportMessages.OwnLanguage(header.Language.Text));
        }

        if (!header.Lines.OfType<StatusLine>().Any() && !header.Incomplete)
        {
            Report(
                header,
                header.Place,
                MeaningMessages.Missing(
                    "The translation doesn't say who reviewed it.",
                    "Write under it: status reviewed \"by whom and how\", or status unreviewed \"why\""
                )
            );
        }

        foreach (
            var same in header
                .Lines.GroupBy(l => l.GetType())
                .Select(g => g.Take(2).ToList())
                .Where(g => g.Count > 1)
        )
        {
            diagnostics.Clash(
                same[1].At,
                same[0].At,
                MeaningMessages.LineTwice(same[0] is StatusLine ? "status" : "cut-offs")
            );
        }
    }

    private void Declare(TextEntry entry)
    {
        var task = entry.Task?.Text ?? "";
        if (task.Length > 0 && !original.Tasks.Any(t => t.Name == task))
        {
            Report(
                entry,
                entry.Task!.Place,
                NameMessages.Unknown(
                    "task",
                    task,
                    diagnostics.Nearest(task, original.Tasks.Select(t => t.Name))
                )
            );
        }

        if (entry.Becomes.Count != 1)
        {
            if (!entry.Incomplete)
            {
                Report(
                    entry,
                    entry.Original.Place,
                    entry.Becomes.Count > 1
                        ? MeaningMessages.LineTwice("becomes")
                        : MeaningMessages.Missing(
                            "This text becomes nothing.",
                            "Write under it: becomes \"…\""
                        )
                );
            }

            _sought.Add(entry.Original.Text);
            return;
        }

        if (!_entries.TryAdd((entry.Original.Text, task), new Entry(entry)))
        {
            var first = _entries[(entry.Original.Text, task)].Statement;
            diagnostics.Clash(
                (entry.Source, entry.Original.Place),
                (first.Source, first.Original.Place),
                MeaningMessages.LineTwice("text for these words")
            );
        }
    }

    private string Translate(string text, TextUse use, string task)
    {
        var found = _entries.GetValueOrDefault((text, task)) ?? _entries.GetValueOrDefault((text, ""));
        if (found is null)
        {
            if (text.Any(char.IsLetter) && _sought.Add(text))
            {
                _missing.Add((text, task));
            }

            return text;
        }

        var line = found.Statement.Becomes[0];
        if (!found.IsUsed)
        {
            Check(text, line, use);
            found.IsUsed = true;
        }

        return line.Text.Text;
    }

    private void Check(string text, BecomesLine line, TextUse use)
    {
        var (wanted, found) = (Names(text, use), Names(line.Text.Text, use));
        if (!wanted.SequenceEqual(found))
        {
            Report(line, line.Text.Place, TranslationMessages.OtherPlaceholders(Said(wanted), Said(found)));
        }

        var words = line.Text.Text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries).Length;
        if (use == TextUse.Say && words > LongestSpoken)
        {
            Report(line, line.Text.Place, CareMessages.LongSpoken(words));
        }
    }

    /// <summary>In a report what stands in braces is filled in; elsewhere braces are filled in already or stand for themselves.</summary>
    private static List<string> Names(string text, TextUse use) =>
        use != TextUse.Report
            ? []
            :
            [
                .. ReportParts
                    .Split(text)
                    .Where(p => p.IsPlaceholder)
                    .Select(p => p.Text)
                    .Distinct()
                    .Order(StringComparer.Ordinal),
            ];

    private static string Said(List<string> names) =>
        names.Count == 0 ? "none" : string.Join(", ", names.Select(n => $"{{{n}}}"));

    private void TellMissing(TranslationHeader header)
    {
        foreach (var (text, where) in _missing.Take(MostMissingTold))
        {
            Report(header, header.Place, TranslationMessages.Untranslated(text, where));
        }

        if (_missing.Count > MostMissingTold)
        {
            Report(
                header,
                header.Place,
                TranslationMessages.MoreUntranslated(_missing.Count - MostMissingTold)
            );
        }
    }

    private void TellUnused()
    {
        foreach (var entry in _entries.Values.Where(e => !e.IsUsed))
        {
            var text = entry.Statement.Original;
            Report(
                entry.Statement,
                text.Place,
                TranslationMessages.NoSuchText(
                    text.Text,
                    diagnostics.Nearest(text.Text, _missing.Select(m => m.Text))
                )
            );
        }
    }

    private Protocol Finish(Protocol translated, TranslationHeader header)
    {
        var status = header.Lines.OfType<StatusLine>().First();
        var shown = header.Lines.OfType<CutOffsShownLine>().FirstOrDefault()?.Text.Text;
        var passages = translated
            .Texts.Where(t => t.Kind == ReportKind.Piece)
            .Select(t => ReportParts.In(t, _ => null))
            .ToDictionary(t => t.Name, StringComparer.Ordinal);
        var whole = translated with
        {
            Language = header.Language.Text,
            Translations = [],
            Translated = new TranslationNote(original.Language, status.Text.Text, status.Reviewed, shown),
            Texts = [.. translated.Texts.Select(t => ReportParts.In(t, passages.GetValueOrDefault))],
        };
        whole = shown is null ? ProvisionalCutOffs.Of(whole) : whole;
        return whole.FingerprintedBy(FingerprintWriter.Of);
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);

    private sealed class Entry(TextEntry statement)
    {
        public TextEntry Statement { get; } = statement;
        public bool IsUsed { get; set; }
    }
}
