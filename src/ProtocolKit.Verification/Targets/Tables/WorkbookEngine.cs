using System.Globalization;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>
/// The emitted workbook in LibreOffice: records are typed into the entry sheet, the file is recalculated without a
/// window, and results and lines are read from what it saves.
/// </summary>
/// <param name="places">For each field and line its column on the scoring sheet.</param>
/// <param name="results">How many columns the results sheet has.</param>
internal sealed class WorkbookEngine(
    byte[] workbook,
    int children,
    IReadOnlyList<int> places,
    int results,
    string program
) : ITableEngine
{
    private const int FirstRow = 3;

    /// <summary>All sheets, as they are and not as they are shown, tabs between, UTF-8.</summary>
    private const string Filter =
        "csv:Text - txt - csv (StarCalc):9,34,76,1,,0,false,false,false,false,false,-1";

    private Server? _office;

    public int BatchSize => children;

    public void Start() => _office = new Server("LibreOffice");

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        var answers = new List<TableRow>();
        foreach (
            var part in rows.Count == 0
                ?
                [
                    [],
                ]
                : rows.Chunk(children)
        )
        {
            answers.AddRange(RunPart(part));
        }

        return answers;
    }

    public void Dispose() => _office?.Dispose();

    private IEnumerable<TableRow> RunPart(string[][] rows)
    {
        var folder = _office!.Folder;
        foreach (var old in Directory.GetFiles(folder, "book*"))
        {
            File.Delete(old);
        }

        File.WriteAllBytes(Path.Combine(folder, "book.xlsx"), Typed(rows));
        var (status, _, complaint) = _office.Run(
            program,
            [
                $"-env:UserInstallation=file://{folder}/profile",
                "--headless",
                "--norestore",
                "--convert-to",
                Filter,
                "--outdir",
                folder,
                Path.Combine(folder, "book.xlsx"),
            ]
        );
        var said = Path.Combine(folder, "book-Results.csv");
        if (status != 0 || !File.Exists(said))
        {
            throw new TargetFaultException($"LibreOffice saved nothing: {complaint.Split('\n')[0]}");
        }

        return Rows(said)
            .Zip(Rows(Path.Combine(folder, "book-Scoring.csv")))
            .Take(rows.Length)
            .Select(r => new TableRow(
                [.. r.First.Take(results).Select(c => c.Length == 0 ? null : c)],
                string.Join(',', places.Select(p => Plain(r.Second[p])))
            ));
    }

    private static string Plain(string cell) =>
        cell switch
        {
            "TRUE" => "1",
            "FALSE" => "0",
            _ => cell,
        };

    /// <summary>Children's rows of a saved sheet. A cell in quotes may hold line ends and doubled quotes.</summary>
    private static IEnumerable<List<string>> Rows(string file)
    {
        var text = File.ReadAllText(file);
        var (rows, row, cell) = (
            new List<List<string>>(),
            new List<string>(),
            new System.Text.StringBuilder()
        );
        var isQuoted = false;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (isQuoted && c == '"' && i + 1 < text.Length && text[i + 1] == '"')
            {
                cell.Append(text[++i]);
            }
            else if (c == '"')
            {
                isQuoted = !isQuoted;
            }
            else if (!isQuoted && c is '\t' or '\n' && !isQuoted)
            {
                row.Add(cell.ToString());
                cell.Clear();
                if (c == '\n')
                {
                    rows.Add(row);
                    row = [];
                }
            }
            else
            {
                cell.Append(c);
            }
        }

        return rows.Skip(FirstRow - 1);
    }

    /// <summary>The workbook with a child's answers in each row of its entry sheet, as if they had been typed.</summary>
    private byte[] Typed(string[][] rows)
    {
        using var stream = new MemoryStream();
        stream.Write(workbook);
        using (var document = SpreadsheetDocument.Open(stream, isEditable: true))
        {
            var book = document.WorkbookPart!;
            var sheet = book.Workbook!.Descendants<Sheet>().First(s => s.Name == "Entry");
            var data = ((WorksheetPart)book.GetPartById(sheet.Id!)).Worksheet!.GetFirstChild<SheetData>()!;
            for (var i = 0; i < rows.Length; i++)
            {
                data.Append(TypedRow(rows[i], FirstRow + i));
            }
        }

        return stream.ToArray();
    }

    private static Row TypedRow(string[] cells, int number)
    {
        var row = new Row { RowIndex = (uint)number };
        for (var i = 0; i < cells.Length; i++)
        {
            if (cells[i].Length == 0)
            {
                continue;
            }

            var reference = Column(i) + number.ToString(CultureInfo.InvariantCulture);
            var isNumber =
                i > 0 && decimal.TryParse(cells[i], NumberStyles.Float, CultureInfo.InvariantCulture, out _);
            row.Append(
                isNumber
                    ? new Cell(new CellValue(cells[i]))
                    {
                        CellReference = reference,
                        DataType = CellValues.Number,
                    }
                    : new Cell(new InlineString(new Text(cells[i])))
                    {
                        CellReference = reference,
                        DataType = CellValues.InlineString,
                    }
            );
        }

        return row;
    }

    private static string Column(int index)
    {
        var name = "";
        for (var i = index + 1; i > 0; i = (i - 1) / 26)
        {
            name = (char)('A' + ((i - 1) % 26)) + name;
        }

        return name;
    }
}
