using System.Globalization;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>Scoring as a spreadsheet with live formulas: a sheet to enter answers, a row a child, and no macros.</summary>
/// <param name="children">How many rows are made ready.</param>
public sealed class WorkbookOutput(int children = 100) : IOutput
{
    /// <summary>Spreadsheets show and compare numbers by 15 digits.</summary>
    private const long LargestExact = 100_000_000_000_000;

    private const int MostColumns = 16_384;

    public string Kind => "workbook";

    public string Purpose => "scoring code: a spreadsheet with live formulas, a row a child";

    public static string FileName(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return protocol.Name + ".xlsx";
    }

    public IReadOnlyList<Artefact> Render(
        Protocol protocol,
        OutputOptions options,
        TemplateSource templates
    ) => [new Artefact(FileName(protocol), "") { Bytes = Bytes(protocol) }];

    /// <exception cref="OutputRefusedException">The program exceeds what a spreadsheet can hold.</exception>
    public byte[] Bytes(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        if (ProgramLimits.FirstBeyond(protocol.Program, LargestExact) is { } line)
        {
            throw new OutputRefusedException(
                $"{Kind}: {line.Name} may grow beyond 10^14, the largest whole number a spreadsheet surely keeps exact. Use coarser steps or narrower bounds."
            );
        }

        var sheets = new WorkbookSheets(protocol);
        if (sheets.TooLong is { } tooLong)
        {
            throw new OutputRefusedException(
                $"{Kind}: the formula of {tooLong} is longer than a cell holds. Break the score into several."
            );
        }

        if (sheets.Scoring.Count > MostColumns)
        {
            throw new OutputRefusedException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{Kind}: scoring needs {sheets.Scoring.Count} columns; a sheet has {MostColumns}. Leave out tasks, trials or scores."
                )
            );
        }

        return WorkbookFile.Write(protocol, sheets, children);
    }

    /// <summary>
    /// Where each field and line (the lines after the fields) stands on the scoring sheet: columns counted from 0.
    /// </summary>
    public static IReadOnlyList<int> Places(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        return new WorkbookSheets(protocol).Places;
    }
}

/// <summary>What stands on the sheets of a protocol's workbook.</summary>
internal sealed class WorkbookSheets
{
    private readonly ScoringCells _cells = new();

    public WorkbookSheets(Protocol protocol)
    {
        Entry = new EntrySheet(protocol, Lists);
        var reading = new WorkbookReading(protocol, Entry, _cells, Lists);
        var lines = new List<string>();
        var writer = new WorkbookWriter(_cells, reading.Fields, lines);
        foreach (var line in protocol.Program.Lines)
        {
            writer.Add(line, Note(line));
        }

        var errors = WorkbookErrors.Add(protocol, _cells, Lists, reading, lines);
        Results = new WorkbookResults(protocol, Entry, _cells, reading, errors, lines, Lists).Columns;
        Places = [.. reading.Fields.Concat(lines).Select(CellNames.Place)];
    }

    public WorkbookLists Lists { get; } = new();

    public EntrySheet Entry { get; }

    public IReadOnlyList<FormulaColumn> Scoring => _cells.Columns;

    public IReadOnlyList<FormulaColumn> Results { get; }

    public IReadOnlyList<int> Places { get; }

    public string? TooLong => _cells.TooLong;

    private static string Note(ProgramLine line)
    {
        var limits = line.Value is null
            ? "true or false"
            : FormattableString.Invariant($"{line.Low}..{line.High}");
        return string.IsNullOrWhiteSpace(line.Note) ? limits : $"{limits}: {line.Note}";
    }
}
