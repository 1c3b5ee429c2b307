using System.Globalization;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Spreadsheet;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>Writes one sheet, cell by cell.</summary>
internal static class SheetWriter
{
    public static void ReadMe(OpenXmlWriter writer, IReadOnlyList<string> lines) =>
        Sheet(
            writer,
            [110],
            isFrozen: false,
            () =>
            {
                for (var i = 0; i < lines.Count; i++)
                {
                    writer.WriteStartElement(new Row { RowIndex = (uint)i + 1 });
                    Text(writer, 0, i, lines[i], i == 0 ? WorkbookStyles.Head : WorkbookStyles.Text);
                    writer.WriteEndElement();
                }
            }
        );

    public static void Entry(OpenXmlWriter writer, EntrySheet entry, int children)
    {
        Sheet(
            writer,
            [.. entry.Columns.Select(_ => 18)],
            isFrozen: true,
            () => Heads(writer, [.. entry.Columns.Select(c => (c.Key, c.Note))]),
            () => Validations(writer, entry, children)
        );
    }

    public static void Formulas(OpenXmlWriter writer, IReadOnlyList<FormulaColumn> columns, int children) =>
        Sheet(
            writer,
            [.. columns.Select(_ => 14)],
            isFrozen: true,
            () =>
            {
                Heads(writer, [.. columns.Select(c => (c.Name, c.Note))]);
                for (var child = 0; child < children; child++)
                {
                    FormulaRow(writer, columns, child, children);
                }
            }
        );

    public static void Lists(OpenXmlWriter writer, IReadOnlyList<WorkbookList> lists) =>
        Sheet(
            writer,
            [.. lists.Select(_ => 24)],
            isFrozen: false,
            () =>
            {
                for (var row = 0; row <= lists.Max(l => l.Items.Count); row++)
                {
                    writer.WriteStartElement(new Row { RowIndex = (uint)row + 1 });
                    for (var column = 0; column < lists.Count; column++)
                    {
                        ListCell(writer, lists[column], column, row);
                    }

                    writer.WriteEndElement();
                }
            }
        );

    private static void ListCell(OpenXmlWriter writer, WorkbookList list, int column, int row)
    {
        if (row == 0)
        {
            Text(writer, column, row, list.Title, WorkbookStyles.Head);
        }
        else if (row <= list.Items.Count)
        {
            if (list.Items[row - 1] is Rational number)
            {
                Number(writer, column, row, number);
            }
            else
            {
                Text(writer, column, row, (string)list.Items[row - 1], WorkbookStyles.Text);
            }
        }
    }

    private static void Sheet(
        OpenXmlWriter writer,
        IReadOnlyList<int> widths,
        bool isFrozen,
        Action rows,
        Action? after = null
    )
    {
        writer.WriteStartElement(new Worksheet());
        var view = new SheetView { WorkbookViewId = 0 };
        if (isFrozen)
        {
            view.Append(
                new Pane
                {
                    HorizontalSplit = 1,
                    VerticalSplit = ScoringCells.FirstRow - 1,
                    TopLeftCell = string.Create(CultureInfo.InvariantCulture, $"B{ScoringCells.FirstRow}"),
                    ActivePane = PaneValues.BottomRight,
                    State = PaneStateValues.Frozen,
                }
            );
        }

        writer.WriteElement(new SheetViews(view));
        var columns = widths.Select(
            (w, i) =>
                new Column
                {
                    Min = (uint)i + 1,
                    Max = (uint)i + 1,
                    Width = w,
                    CustomWidth = true,
                }
        );
        writer.WriteElement(new Columns(columns));
        writer.WriteStartElement(new SheetData());
        rows();
        writer.WriteEndElement();
        after?.Invoke();
        writer.WriteEndElement();
    }

    private static void Heads(OpenXmlWriter writer, IReadOnlyList<(string Name, string Note)> columns)
    {
        for (var row = 0; row < 2; row++)
        {
            writer.WriteStartElement(new Row { RowIndex = (uint)row + 1 });
            for (var i = 0; i < columns.Count; i++)
            {
                var text = row == 0 ? columns[i].Name : columns[i].Note;
                Text(writer, i, row, text, row == 0 ? WorkbookStyles.Head : WorkbookStyles.Note);
            }

            writer.WriteEndElement();
        }
    }

    /// <summary>The first row holds the formulas; the others say they are the same further down.</summary>
    private static void FormulaRow(
        OpenXmlWriter writer,
        IReadOnlyList<FormulaColumn> columns,
        int child,
        int children
    )
    {
        var row = ScoringCells.FirstRow + child;
        writer.WriteStartElement(new Row { RowIndex = (uint)row });
        for (var i = 0; i < columns.Count; i++)
        {
            var formula = new CellFormula { FormulaType = CellFormulaValues.Shared, SharedIndex = (uint)i };
            if (child == 0)
            {
                formula.Text = columns[i].Formula;
                formula.Reference = string.Create(
                    CultureInfo.InvariantCulture,
                    $"{CellNames.Column(i)}{row}:{CellNames.Column(i)}{row + children - 1}"
                );
            }

            writer.WriteElement(new Cell(formula) { CellReference = Reference(i, row - 1) });
        }

        writer.WriteEndElement();
    }

    private static void Validations(OpenXmlWriter writer, EntrySheet entry, int children)
    {
        var validations = new DataValidations();
        for (var i = 0; i < entry.Columns.Count; i++)
        {
            var column = entry.Columns[i];
            if (column.List.Length == 0 && column.Rule.Length == 0)
            {
                continue;
            }

            var letters = CellNames.Column(i);
            validations.Append(
                new DataValidation(new Formula1(column.List.Length > 0 ? column.List : column.Rule))
                {
                    Type = column.List.Length > 0 ? DataValidationValues.List : DataValidationValues.Custom,
                    AllowBlank = true,
                    ShowInputMessage = true,
                    ShowErrorMessage = true,
                    ErrorStyle = DataValidationErrorStyleValues.Stop,
                    ErrorTitle = "This can't stand here",
                    Error = Short($"Give {column.Note}."),
                    SequenceOfReferences = new ListValue<StringValue>([
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"{letters}{ScoringCells.FirstRow}:{letters}{ScoringCells.FirstRow + children - 1}"
                        ),
                    ]),
                }
            );
        }

        validations.Count = (uint)validations.ChildElements.Count;
        writer.WriteElement(validations);
    }

    private static string Short(string text)
    {
        var cell = WorkbookText.Cell(text);
        return cell.Length <= 220 ? cell : cell[..220] + "…";
    }

    private static void Text(OpenXmlWriter writer, int column, int row, string text, uint style) =>
        writer.WriteElement(
            new Cell(
                new InlineString(
                    new Text(WorkbookText.Cell(text)) { Space = SpaceProcessingModeValues.Preserve }
                )
            )
            {
                CellReference = Reference(column, row),
                DataType = CellValues.InlineString,
                StyleIndex = style,
            }
        );

    private static void Number(OpenXmlWriter writer, int column, int row, Rational number) =>
        writer.WriteElement(
            new Cell(new CellValue(number.ToString()))
            {
                CellReference = Reference(column, row),
                DataType = CellValues.Number,
            }
        );

    /// <param name="row">From 0.</param>
    private static string Reference(int column, int row) =>
        string.Create(CultureInfo.InvariantCulture, $"{CellNames.Column(column)}{row + 1}");
}
