using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>The protocol's header, with defaults where lines are missing or wrong.</summary>
/// <param name="Ages">Null where they are unknown, so that nothing is held against them.</param>
internal sealed record BoundHeader(string Name, string Title, string Edition, AgeRange? Ages)
{
    /// <summary>True where a line of it could not be read: what is missing may stand there.</summary>
    public bool Incomplete { get; init; }
    public Age? CorrectedUntil { get; init; }
    public IReadOnlyList<EditionNote> EditionNotes { get; init; } = [];
    public string Language { get; init; } = "en";
    public IReadOnlyList<string> Translations { get; init; } = [];
    public MinuteRange? Sitting { get; init; }
    public int? ShortFormMinutes { get; init; }
    public string? Purpose { get; init; }
    public string? Examiner { get; init; }
    public IReadOnlyList<string> References { get; init; } = [];
}

internal static class HeaderBinder
{
    private static readonly BoundHeader Unknown = new("", "", "", null) { Incomplete = true };

    /// <summary>Null, after reporting, where the file is a module.</summary>
    public static BoundHeader? Bind(SourceUnit unit, DiagnosticBag diagnostics)
    {
        CheckVersion(unit, diagnostics);
        if (unit.Header is ModuleHeader module)
        {
            diagnostics.Report(
                unit.Source,
                module.Place,
                NameMessages.WrongFile(module.Name.Text, wantsModule: false)
            );
            return null;
        }

        if (unit.Header is not ProtocolHeader header)
        {
            if (
                unit.Statements.Count > 0
                && !unit.Statements.Any(s => s is BrokenStatement { Word: "protocol" or "module" })
            )
            {
                diagnostics.Report(
                    unit.Source,
                    new Place(1, 1, 0),
                    MeaningMessages.Missing(
                        "Nothing says what protocol this is.",
                        "Begin the file with protocol and a name."
                    )
                );
            }

            return Unknown;
        }

        NameSpelling.Check(header.Name, unit.Source, diagnostics);
        CheckOnce(header, diagnostics);
        return Read(header, diagnostics);
    }

    public static void CheckVersion(SourceUnit unit, DiagnosticBag diagnostics)
    {
        foreach (var line in unit.Statements.OfType<LanguageLine>())
        {
            if (line.Version.Number != LanguageVersion.Newest)
            {
                diagnostics.Report(
                    unit.Source,
                    line.Version.Place,
                    MeaningMessages.Version(line.Version.Number.ToString()!)
                );
            }
        }
    }

    private static BoundHeader Read(ProtocolHeader header, DiagnosticBag diagnostics)
    {
        string? Text(string keyword) =>
            header.Body.OfType<HeaderText>().FirstOrDefault(t => t.Keyword == keyword)?.Text.Text;

        var edition = header.Body.OfType<EditionLine>().FirstOrDefault()?.Edition;
        var agesLine = header.Body.OfType<AgesLine>().FirstOrDefault();
        if (!header.Incomplete)
        {
            Require(header, Text("title"), "title \"…\"", diagnostics);
            Require(header, edition, "edition 1.0", diagnostics);
            Require(header, agesLine, "ages 4;0 to 11;11", diagnostics);
        }

        var ages = agesLine is null ? null : Ages.Bind(agesLine.Ages, header.Source, diagnostics);
        return new BoundHeader(
            header.Name.Text,
            Text("title") ?? Names.ToTitle(header.Name.Text),
            edition ?? "",
            ages
        )
        {
            Incomplete = header.Incomplete,
            CorrectedUntil = Corrected(header, ages, diagnostics),
            EditionNotes = Editions(header, edition, diagnostics),
            Translations = Translations(header, diagnostics),
            Language = header.Body.OfType<SpokenLine>().FirstOrDefault()?.Language.Text ?? "en",
            Sitting = Sitting(header, diagnostics),
            ShortFormMinutes = ShortForm(header, diagnostics),
            Purpose = Text("purpose"),
            Examiner = Text("examiner"),
            References =
            [
                .. header
                    .Body.OfType<HeaderText>()
                    .Where(t => t.Keyword == "reference")
                    .Select(t => t.Text.Text),
            ],
        };
    }

    private static void Require(ProtocolHeader header, object? found, string line, DiagnosticBag diagnostics)
    {
        if (found is null)
        {
            diagnostics.Report(
                header.Source,
                header.Name.Place,
                MeaningMessages.Missing(
                    $"The header has no {line.Split(' ')[0]} line.",
                    $"Add under it: {line}"
                )
            );
        }
    }

    private static void CheckOnce(ProtocolHeader header, DiagnosticBag diagnostics)
    {
        var seen = new Dictionary<string, Statement>(StringComparer.Ordinal);
        foreach (var line in header.Body.Where(l => l is not BrokenStatement))
        {
            var key = line is HeaderText text
                ? text.Keyword
                : line.GetType().Name.Replace("Line", "", StringComparison.Ordinal).ToLowerInvariant();
            if (key is not ("reference" or "earlieredition") && !seen.TryAdd(key, line))
            {
                diagnostics.Clash(line.At, seen[key].At, MeaningMessages.LineTwice(key));
            }
        }
    }

    /// <summary>Until when ages are corrected; a child of this protocol has to be that young.</summary>
    private static Age? Corrected(ProtocolHeader header, AgeRange? ages, DiagnosticBag diagnostics)
    {
        if (
            header.Body.OfType<CorrectedAgesLine>().FirstOrDefault() is not { } line
            || Ages.Bind(line.Until, line.Source, diagnostics) is not { } until
        )
        {
            return null;
        }

        if (ages is { } range && until <= range.From)
        {
            diagnostics.Report(
                line.Source,
                line.Until.Place,
                ReportMessages.NeverCorrected(until.ToString(), range.From.ToString())
            );
        }

        return until;
    }

    private static List<EditionNote> Editions(
        ProtocolHeader header,
        string? edition,
        DiagnosticBag diagnostics
    )
    {
        var notes = new List<EditionNote>();
        if (header.Body.OfType<EditionLine>().FirstOrDefault() is { What: { } what } line)
        {
            notes.Add(new EditionNote(line.Edition, what.Text));
        }

        var seen = new HashSet<string>(StringComparer.Ordinal) { edition ?? "" };
        foreach (var earlier in header.Body.OfType<EarlierEditionLine>())
        {
            if (!seen.Add(earlier.Edition))
            {
                diagnostics.Report(
                    earlier.Source,
                    earlier.Number,
                    MeaningMessages.LineTwice($"earlier edition {earlier.Edition}")
                );
            }

            notes.Add(new EditionNote(earlier.Edition, earlier.What.Text));
        }

        return notes;
    }

    private static List<string> Translations(ProtocolHeader header, DiagnosticBag diagnostics)
    {
        var spoken = header.Body.OfType<SpokenLine>().FirstOrDefault()?.Language.Text ?? "en";
        var seen = new HashSet<string>(StringComparer.Ordinal) { spoken };
        var languages = header
            .Body.OfType<TranslationsLine>()
            .SelectMany(l => l.Languages.Select(w => (l.Source, Word: w)));
        foreach (var (source, word) in languages)
        {
            if (!seen.Add(word.Text))
            {
                diagnostics.Report(source, word.Place, ReportMessages.OwnLanguage(word.Text));
            }
        }

        seen.Remove(spoken);
        return [.. seen];
    }

    private static MinuteRange? Sitting(ProtocolHeader header, DiagnosticBag diagnostics)
    {
        var line = header.Body.OfType<SittingLine>().FirstOrDefault();
        return
            line is null
            || Minutes(line, line.Minutes.From, diagnostics) is not { } from
            || Minutes(line, line.Minutes.To, diagnostics) is not { } to
            ? null
            : new MinuteRange(from, to);
    }

    private static int? ShortForm(ProtocolHeader header, DiagnosticBag diagnostics) =>
        header.Body.OfType<ShortFormLine>().FirstOrDefault() is { } line
            ? Minutes(line, line.Minutes, diagnostics)
            : null;

    private static int? Minutes(Statement line, NumberValue value, DiagnosticBag diagnostics)
    {
        if (value.Number is { IsInteger: true, Sign: > 0 } number && number < 1000)
        {
            return (int)number.Numerator;
        }

        diagnostics.Report(
            line.Source,
            value.Place,
            NumberMessages.Number("Minutes are whole numbers from 1 to 999.", "Write, for example, 30.")
        );
        return null;
    }
}
