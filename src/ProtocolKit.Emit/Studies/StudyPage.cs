using ProtocolKit.Emit.Paper;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Studies;

/// <summary>A study's report: a page, its tables as CSV, and everything as JSON.</summary>
public static class StudyPage
{
    private const int ShortTable = 16;

    /// <exception cref="TemplateFaultException">A template is at fault.</exception>
    public static IReadOnlyList<Artefact> Render(
        StudyReport report,
        OutputOptions options,
        TemplateSource templates
    )
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(options);
        var name = $"study-{report.Kind}";
        return
        [
            new Artefact(
                $"{name}.html",
                TemplateRenderer.Html(templates, "study-report/report.html", View(report, options)),
                true
            ),
            .. report.Tables.Select(t => new Artefact($"{name}/{t.Name}.csv", StudyTables.Csv(t))),
            new Artefact($"{name}.json", StudyJson.Write(report)),
            .. report.Blocks.Count == 0
                ? []
                : new[] { new Artefact($"{name}.txt", string.Join('\n', report.Blocks.Select(b => b.Text))) },
        ];
    }

    internal static StudyReportView View(StudyReport report, OutputOptions options) =>
        new(
            report.Protocol.Language,
            report.Title,
            report.Protocol.Title,
            report.Protocol.Edition,
            Words.Grouped(report.Protocol.Fingerprints.Interpretation),
            PaperGeometry.Of(options.Paper).CssSize,
            report.Asked.Select(Fact).ToList(),
            report.Data.Select(Fact).ToList(),
            report.LeftOut.Select(Fact).ToList(),
            report.Sections.Select(Section).ToList(),
            report.May,
            report.MayNot,
            report.Blocks.Select(b => new BlockView(b.Title, b.Text, b.Provisional, b.NotProved)).ToList(),
            Cautions(report.Protocol)
        );

    /// <summary>What every study report says, whatever it found.</summary>
    internal static IReadOnlyList<string> Cautions(Protocol protocol) =>
        [
            Duties.NoDiagnosis.In(protocol),
            Duties.NonSpeech.In(protocol),
            Duties.Languages.In(protocol),
            "Cut-offs of this protocol are provisional wherever their basis says so, and stay so for small groups of children.",
            "Figures hold for children like these, seen by examiners like these. Local rules and licensed practice come first.",
        ];

    private static FactView Fact(EvidenceFact fact) => new(fact.Name, fact.Text);

    private static SectionView Section(EvidenceSection section) =>
        new(
            section.Title,
            section.Text,
            section.Tables.Select(Table).ToList(),
            section.Plots.Select(Charts.Of).ToList()
        );

    private static TableView Table(EvidenceTable table) =>
        new(
            table.Title,
            table.Columns.Select(c => c.Title).ToList(),
            table
                .Rows.Select(r => new RowView(r.Select(c => new CellView(c.Text, c.IsFigure)).ToList()))
                .ToList(),
            table.Note,
            table.Columns.Count > 8,
            table.Rows.Count <= ShortTable
        );
}

/// <param name="Language">Of the texts, as HTML wants it: <c>en</c>.</param>
/// <param name="Title">Of the study.</param>
/// <param name="ProtocolTitle">Of the protocol.</param>
/// <param name="Edition">As the protocol gives it.</param>
/// <param name="Interpretation">Fingerprint of scores, cut-offs and actions.</param>
/// <param name="PageSize">As a style sheet names it.</param>
/// <param name="Asked">What was asked of the data.</param>
/// <param name="Data">The shape of the data.</param>
/// <param name="LeftOut">What was not used, and why.</param>
/// <param name="Sections">Tables and pictures.</param>
/// <param name="May">What may be concluded.</param>
/// <param name="MayNot">What may not be.</param>
/// <param name="Blocks">Texts to paste into the protocol.</param>
/// <param name="Cautions">The duties of every report.</param>
public sealed record StudyReportView(
    string Language,
    string Title,
    string ProtocolTitle,
    string Edition,
    string Interpretation,
    string PageSize,
    IReadOnlyList<FactView> Asked,
    IReadOnlyList<FactView> Data,
    IReadOnlyList<FactView> LeftOut,
    IReadOnlyList<SectionView> Sections,
    IReadOnlyList<string> May,
    IReadOnlyList<string> MayNot,
    IReadOnlyList<BlockView> Blocks,
    IReadOnlyList<string> Cautions
);

/// <param name="Name">What it is about.</param>
/// <param name="Text">What there is to say.</param>
public sealed record FactView(string Name, string Text);

/// <param name="Title">Its heading.</param>
/// <param name="Text">Paragraphs before the tables.</param>
/// <param name="Tables">In order.</param>
/// <param name="Charts">In order, each with its words.</param>
public sealed record SectionView(
    string Title,
    IReadOnlyList<string> Text,
    IReadOnlyList<TableView> Tables,
    IReadOnlyList<ChartView> Charts
);

/// <param name="Title">Above the table.</param>
/// <param name="Heads">Of the columns.</param>
/// <param name="Rows">In order.</param>
/// <param name="Note">Below the table; empty where there is nothing to say.</param>
/// <param name="Wide">So many columns that it is set smaller.</param>
/// <param name="Short">So few rows that it stays on one page.</param>
public sealed record TableView(
    string Title,
    IReadOnlyList<string> Heads,
    IReadOnlyList<RowView> Rows,
    string Note,
    bool Wide,
    bool Short
);

/// <param name="Cells">As many as heads.</param>
public sealed record RowView(IReadOnlyList<CellView> Cells);

/// <param name="Text">As it is printed.</param>
/// <param name="Figure">A number, set to the right.</param>
public sealed record CellView(string Text, bool Figure);

/// <param name="Title">What it is for.</param>
/// <param name="Text">To paste, line by line.</param>
/// <param name="Provisional">Why it stays provisional; empty where it doesn’t.</param>
/// <param name="NotProved">What could not be proved of it; empty where all was.</param>
public sealed record BlockView(string Title, string Text, string Provisional, string NotProved);
