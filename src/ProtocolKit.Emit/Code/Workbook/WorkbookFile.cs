using System.Globalization;
using System.IO.Compression;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>Writes the sheets as one file, the same bytes for the same protocol.</summary>
internal static class WorkbookFile
{
    private const string WorkbookType =
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml";
    private static readonly DateTimeOffset ZipEpoch = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static byte[] Write(Protocol protocol, WorkbookSheets sheets, int children)
    {
        using var stream = new MemoryStream();
        using (var document = SpreadsheetDocument.Create(stream, SpreadsheetDocumentType.Workbook))
        {
            // A name of our own: the library would draw one at random.
            var book = document.AddNewPart<WorkbookPart>(WorkbookType, "workbook");
            var styles = book.AddNewPart<WorkbookStylesPart>("styles");
            styles.Stylesheet = WorkbookStyles.Sheet();
            var list = new Sheets();
            book.Workbook = new DocumentFormat.OpenXml.Spreadsheet.Workbook(
                list,
                new CalculationProperties { FullCalculationOnLoad = true }
            );
            Add(book, list, "Read me", w => SheetWriter.ReadMe(w, WorkbookText.ReadMe(protocol)));
            Add(book, list, EntrySheet.Sheet, w => SheetWriter.Entry(w, sheets.Entry, children));
            Add(book, list, WorkbookResults.Sheet, w => SheetWriter.Formulas(w, sheets.Results, children));
            Add(book, list, ScoringCells.Sheet, w => SheetWriter.Formulas(w, sheets.Scoring, children));
            Add(book, list, WorkbookLists.Sheet, w => SheetWriter.Lists(w, sheets.Lists.All));
        }

        return WithoutClock(stream.ToArray());
    }

    private static void Add(WorkbookPart book, Sheets list, string name, Action<OpenXmlWriter> write)
    {
        var number = (uint)list.ChildElements.Count + 1;
        var id = string.Create(CultureInfo.InvariantCulture, $"sheet{number}");
        var part = book.AddNewPart<WorksheetPart>(id);
        list.Append(
            new Sheet
            {
                Name = name,
                SheetId = number,
                Id = id,
            }
        );
        using var writer = OpenXmlWriter.Create(part);
        write(writer);
    }

    /// <summary>The zip file again with one date for all its entries, in the order of their names.</summary>
    private static byte[] WithoutClock(byte[] file)
    {
        using var target = new MemoryStream();
        using (var from = new ZipArchive(new MemoryStream(file), ZipArchiveMode.Read))
        using (var to = new ZipArchive(target, ZipArchiveMode.Create))
        {
            foreach (var entry in from.Entries.OrderBy(e => e.FullName, StringComparer.Ordinal))
            {
                var copy = to.CreateEntry(entry.FullName, CompressionLevel.Optimal);
                copy.LastWriteTime = ZipEpoch;
                using var source = entry.Open();
                using var sink = copy.Open();
                source.CopyTo(sink);
            }
        }

        return target.ToArray();
    }
}
