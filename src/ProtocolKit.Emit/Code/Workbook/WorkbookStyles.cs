using DocumentFormat.OpenXml.Spreadsheet;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>The few styles cells have, by their number.</summary>
internal static class WorkbookStyles
{
    public const uint Plain = 0;
    public const uint Head = 1;
    public const uint Note = 2;

    /// <summary>A text that stays one, whatever it begins with.</summary>
    public const uint Text = 3;

    public static Stylesheet Sheet() =>
        new(
            new Fonts(new Font(), new Font(new Bold()), new Font(new Italic())),
            new Fills(
                new Fill(new PatternFill { PatternType = PatternValues.None }),
                new Fill(new PatternFill { PatternType = PatternValues.Gray125 })
            ),
            new Borders(new Border()),
            new CellStyleFormats(new CellFormat()),
            new CellFormats(
                new CellFormat(),
                new CellFormat
                {
                    FontId = 1,
                    ApplyFont = true,
                    QuotePrefix = true,
                },
                new CellFormat(new Alignment { WrapText = true, Vertical = VerticalAlignmentValues.Top })
                {
                    FontId = 2,
                    ApplyFont = true,
                    ApplyAlignment = true,
                    QuotePrefix = true,
                },
                new CellFormat(new Alignment { WrapText = true, Vertical = VerticalAlignmentValues.Top })
                {
                    ApplyAlignment = true,
                    QuotePrefix = true,
                }
            )
        );
}
