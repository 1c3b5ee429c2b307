using System.Globalization;
using System.Text;
using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>
/// Writes a <c>cut-offs</c> block from the pilot. The worst band ends at Youden's cut; the middle one, where there are
/// three, at the cut that keeps the wanted sensitivity. Rows of the protocol's own table are joined until each
/// has enough children; where the whole pilot is too small, the block stays provisional.
/// </summary>
internal sealed class CutOffBlock(CutOffData data, StudyOptions options, string seen, string blind)
{
    /// <summary>Cases and others a row needs besides its children. Common practice, no source.</summary>
    private const int FewestOfAKind = 8;

    /// <summary>Rows with their own n; nothing where this table can't be written from a curve.</summary>
    public (PasteBlock Block, EvidenceTable Rows)? Write()
    {
        if (
            data.Table is not { } table
            || table.Bands.Count is < 2 or > 3
            || data.Outcome.Step is not { } step
        )
        {
            return null;
        }

        var rows = Joined(table).Select(r => Row(r, table, step)).ToList();
        if (rows.Exists(r => r is null))
        {
            return null;
        }

        var all = rows.OfType<WrittenRow>().ToList();
        var small = all.Where(r => r.Children < Basis.SmallRow).ToList();
        var why = Why(table, all);
        var text = Text(table, all, why);
        return (
            new PasteBlock(
                $"Cut-offs of {data.Outcome.Title}, in place of the table that stands there",
                text,
                why
            ),
            Table(all)
        );
    }

    /// <summary>Why the rows stay provisional; empty where they don't.</summary>
    private string Why(CutOffTable table, List<WrittenRow> rows)
    {
        var small = rows.Where(r => r.Children < Basis.SmallRow).ToList();
        return small.Count > 0
                ? $"{string.Join(", ", small.Select(r => $"{r.Ages} has {r.Children} children"))}; fewer than {Basis.SmallRow} stay provisional."
            : rows.Count == 1 && table.Rows.Count > 1
                ? "The pilot is too small to keep ages apart as the protocol does; all of them stand in one row here."
            : Backwards(rows) is { } older
                ? $"From {older.Ages.From} on less would be asked than of younger children, which is chance in a small pilot or a fault of the task; not to be used as it stands."
            : "";
    }

    /// <summary>The first row whose limits ask less of older children than the row before asks of younger ones.</summary>
    private WrittenRow? Backwards(List<WrittenRow> rows) =>
        rows.Zip(rows.Skip(1))
            .Where(p =>
                p.First.Edges.Zip(p.Second.Edges)
                    .Any(e => data.LowIsWorse ? e.Second < e.First : e.Second > e.First)
            )
            .Select(p => p.Second)
            .FirstOrDefault();

    private string Text(CutOffTable table, List<WrittenRow> rows, string why)
    {
        var lines = new List<string[]>();
        lines.Add(["ages", .. table.Bands.Select(b => b.Name)]);
        lines.AddRange(rows.Select(r => (string[])[r.Ages.ToString(), .. r.Cells]));
        var widths = Enumerable.Range(0, lines[0].Length).Select(i => lines.Max(l => l[i].Length)).ToList();
        var text = new StringBuilder($"cut-offs {data.Outcome.Name}\n");
        foreach (var line in lines)
        {
            text.Append("  ")
                .Append(string.Join("  ", line.Select((c, i) => c.PadRight(widths[i]))).TrimEnd())
                .Append('\n');
        }

        return text.Append("  ").Append(BasisLine(rows, why)).Append('\n').ToString();
    }

    private string BasisLine(List<WrittenRow> rows, string why)
    {
        var curve = data.Curve();
        var area = CutTables.Area(curve, options);
        var what =
            "cut-offs study: worst band to Youden's cut, next to the cut of sensitivity "
            + Figures.Number(options.Sensitivity);
        if (why.Length > 0)
        {
            return string.Create(
                CultureInfo.InvariantCulture,
                $"basis provisional \"{what}, n {data.Judged.Count}, cases {data.Cases}; {why.TrimEnd('.')}\"{Errors(rows)}"
            );
        }

        var interval = area is { } i
            ? $", interval \"area {Figures.Number(curve!.Area)}, {Figures.Percent(options.Confidence)} {Figures.Number(i.Low)} to {Figures.Number(i.High)}\""
            : "";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"basis pilot \"{what}\", n {data.Judged.Count}, cases {data.Cases}, reference \"reference judgement of the pilot\", blind \"{blind}\", dates \"{seen}\"{interval}{Errors(rows)}"
        );
    }

    /// <summary>Misses and false alarms at the end of the worst band, over all rows: every output that names the basis can say them.</summary>
    private static string Errors(List<WrittenRow> rows)
    {
        var (cases, others) = (rows.Sum(r => r.Cases), rows.Sum(r => r.Children - r.Cases));
        var missed = rows.Sum(r => Math.Round((1 - r.Sensitivity) * r.Cases));
        var alarms = rows.Sum(r => Math.Round((1 - r.Specificity) * (r.Children - r.Cases)));
        return string.Create(
            CultureInfo.InvariantCulture,
            $", misses \"{missed} of {cases}\", false-alarms \"{alarms} of {others}\""
        );
    }

    private static EvidenceTable RowsTable(
        string name,
        string title,
        IReadOnlyList<IReadOnlyList<EvidenceCell>> rows
    ) =>
        new(
            name,
            title,
            [
                Figures.Column("ages", "Ages"),
                Figures.Column("n", "Children"),
                Figures.Column("cases", "Cases"),
                Figures.Column("area", "Area"),
                Figures.Column("worst", "Worst band ends at"),
                Figures.Column("sensitivity", "Sensitivity there"),
                Figures.Column("specificity", "Specificity there"),
                Figures.Column("stays", "Stays provisional"),
            ],
            rows,
            $"Rows of the protocol’s table are joined until each has {Basis.SmallRow} children, {FewestOfAKind} of them cases and {FewestOfAKind} others (common practice, no source)."
        );

    private EvidenceTable Table(List<WrittenRow> rows) =>
        RowsTable(
            $"rows-{data.Outcome.Name}",
            $"{data.Outcome.Title}: rows by age",
            [
                .. rows.Select(r =>
                    (IReadOnlyList<EvidenceCell>)
                        [
                            EvidenceCell.Of(r.Ages.ToString()),
                            EvidenceCell.Of(r.Children),
                            EvidenceCell.Of(r.Cases),
                            EvidenceCell.Of(r.Area),
                            EvidenceCell.Of(r.Best.Length == 0 ? Figures.NotDefined : r.Best),
                            EvidenceCell.Of(r.Sensitivity),
                            EvidenceCell.Of(r.Specificity),
                            EvidenceCell.Of(r.Children < Basis.SmallRow ? "yes" : "no"),
                        ]
                ),
            ]
        );

    /// <summary>Neighbouring rows of the table, joined from the youngest up; a small rest joins the row before it.</summary>
    private List<AgeRange> Joined(CutOffTable table)
    {
        var joined = new List<AgeRange>();
        foreach (var ages in table.Rows.Select(r => r.Ages))
        {
            if (joined.Count > 0 && !IsEnough(joined[^1]))
            {
                joined[^1] = new AgeRange(joined[^1].From, ages.To);
            }
            else
            {
                joined.Add(ages);
            }
        }

        if (joined.Count > 1 && !IsEnough(joined[^1]))
        {
            joined[^2] = new AgeRange(joined[^2].From, joined[^1].To);
            joined.RemoveAt(joined.Count - 1);
        }

        return joined;
    }

    private bool IsEnough(AgeRange ages)
    {
        var children = data.Judged.Where(c => ages.Contains(c.Age)).ToList();
        var cases = children.Count(c => c.IsCase);
        return children.Count >= Basis.SmallRow
            && cases >= FewestOfAKind
            && children.Count - cases >= FewestOfAKind;
    }

    private WrittenRow? Row(AgeRange ages, CutOffTable table, Rational step)
    {
        var children = data.Judged.Where(c => ages.Contains(c.Age)).ToList();
        if (data.Curve(c => ages.Contains(c.Age)) is not { } curve)
        {
            return null;
        }

        var best = curve.BestByYouden()[0];
        var wanted = curve.AtSensitivity(options.Sensitivity);
        if (!double.IsFinite(best.Threshold))
        {
            return null;
        }

        var cells = table.Rows.SelectMany(r => r.Cells).OfType<CutOffCell>().ToList();
        var (low, high) = (cells.Min(c => c.From), cells.Max(c => c.To));
        var edges = new List<Rational> { data.LastPositive(best.Threshold) };
        if (table.Bands.Count == 3)
        {
            var further = double.IsFinite(wanted.Threshold) ? data.LastPositive(wanted.Threshold) : edges[0];
            edges.Add(data.LowIsWorse == further > edges[0] ? further : edges[0]);
        }

        return new WrittenRow(
            ages,
            Cells(edges, low, high, step),
            edges,
            children.Count,
            children.Count(c => c.IsCase),
            curve.Area,
            data.Words(best.Threshold),
            best.Sensitivity,
            best.Specificity
        );
    }

    /// <summary>From the last value of each band but the best to cells that leave no value out.</summary>
    private string[] Cells(List<Rational> edges, Rational low, Rational high, Rational step)
    {
        var cells = new List<string>();
        var start = data.LowIsWorse ? low : high;
        foreach (var edge in edges)
        {
            cells.Add(Cell(start, edge));
            start = data.LowIsWorse
                ? (edge >= start ? edge + step : start)
                : (edge <= start ? edge - step : start);
        }

        cells.Add(Cell(start, data.LowIsWorse ? high : low));
        return [.. cells];
    }

    private string Cell(Rational start, Rational end)
    {
        var (from, to) = data.LowIsWorse ? (start, end) : (end, start);
        return from > to ? "none"
            : from == to ? from.ToString()
            : $"{from} to {to}";
    }

    private sealed record WrittenRow(
        AgeRange Ages,
        string[] Cells,
        IReadOnlyList<Rational> Edges,
        int Children,
        int Cases,
        double Area,
        string Best,
        double Sensitivity,
        double Specificity
    );
}
