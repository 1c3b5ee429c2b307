using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Cut-off tables: checked against ages and steps, then one line with the band.</summary>
internal sealed class CutOffLowering(
    ProgramBuilder program,
    AnswerLowering answers,
    OutcomeLowering outcomes,
    VocabularyBinder vocabulary,
    Declarations declared,
    AgeRange ages,
    DiagnosticBag diagnostics
)
{
    private readonly List<BandLine> _lines = [];
    private readonly List<IReadOnlyList<Band>> _orders = [];

    public IReadOnlyList<BandLine> Lines => _lines;

    public LoweredTable? Lower(CutOffsBlock block)
    {
        var name = block.Outcome;
        if (declared.Values.Require(name, block.Source) is not { } statement)
        {
            return null;
        }

        if (statement is not OutcomeBlock)
        {
            Report(block, name.Place, NameMessages.NotHere(name.Text, "a task", "a measure or score"));
            return null;
        }

        var value = outcomes.ValueOf(name.Text, name.Place, block.Source);
        if (value is null || outcomes.Find(name.Text) is not { } outcome)
        {
            return null;
        }

        if (outcome.Step is not { } step)
        {
            Report(block, name.Place, MeaningMessages.Step(name.Text, "it is banded"));
            return null;
        }

        if (block.ShortForm && !answers.HasShortForm)
        {
            Report(block, block.Place, MeaningMessages.ShortForm("This protocol has no short form.", "Add short form … min to the header, or remove it here."));
        }

        var bands = block.Bands.Select(b => vocabulary.Band(b.Text)).ToList();
        CheckOrder(block, bands);
        var rows = block.Rows.Select(r => Row(r, step, bands)).OfType<CutOffRow>().ToList();
        CheckAges(block, rows);
        var table = new CutOffTable(outcome, block.ShortForm, bands, rows, BasisOf(block, rows.Count), block.Source.OriginOf(name.Place));
        var line = Line(table, value, step);
        _lines.Add(new BandLine(table, line));
        var last = (long)bands.Count + 3;
        return new LoweredTable(table, new LineValue(line, 0, last));
    }

    private CutOffRow? Row(CutOffRowLine line, Rational step, List<Band> bands)
    {
        if (Ages.Bind(line.Ages, line.Source, diagnostics) is not { } range)
        {
            return null;
        }

        var cells = new List<CutOffCell?>();
        foreach (var cell in line.Cells)
        {
            cells.Add(Cell(line, cell, step));
        }

        while (cells.Count < bands.Count)
        {
            cells.Add(null);
        }

        CheckOverlap(line, cells, bands);
        return new CutOffRow(range, cells, line.Source.OriginOf(line.Place));
    }

    private CutOffCell? Cell(CutOffRowLine line, CutOffCellValue cell, Rational step)
    {
        if (cell.Range is not { } range || range.From.Number is not { } low || range.To.Number is not { } high)
        {
            return null;
        }

        if (low > high)
        {
            Report(line, range.Place, MeaningMessages.Backwards(low.ToString(), high.ToString()));
            return null;
        }

        foreach (var (number, place) in new[] { (low, range.From.Place), (high, range.To.Place) })
        {
            if (!number.TryCountSteps(step, out _))
            {
                Report(line, place, MeaningMessages.OffStep(number, step));
                return null;
            }
        }

        return new CutOffCell(low, high);
    }

    private void CheckOverlap(CutOffRowLine line, List<CutOffCell?> cells, List<Band> bands)
    {
        for (var i = 0; i < cells.Count; i++)
        {
            for (var j = i + 1; j < cells.Count; j++)
            {
                if (cells[i] is { } a && cells[j] is { } b && a.From <= b.To && b.From <= a.To)
                {
                    var (from, to) = (a.From > b.From ? a.From : b.From, a.To < b.To ? a.To : b.To);
                    var shared = from == to ? from.ToString() : $"{from} to {to}";
                    Report(line, line.Cells[j].Place, MeaningMessages.BandsOverlap(shared, bands[i].Name, bands[j].Name));
                }
            }
        }
    }

    private void CheckAges(CutOffsBlock block, List<CutOffRow> rows)
    {
        for (var i = 0; i < rows.Count; i++)
        {
            if (rows[i].Ages.From < ages.From || rows[i].Ages.To > ages.To)
            {
                Report(block, PlaceOf(block, i), MeaningMessages.Outside(rows[i].Ages, ages));
            }

            for (var j = 0; j < i; j++)
            {
                if (rows[i].Ages.Overlaps(rows[j].Ages))
                {
                    Report(block, PlaceOf(block, i), MeaningMessages.RowsOverlap(rows[j].Ages, rows[i].Ages));
                }
            }
        }

        if (rows.Count == block.Rows.Count)
        {
            ReportGaps(block, rows);
        }
    }

    private static Place PlaceOf(CutOffsBlock block, int row) => block.Rows[row].Ages.Place;

    private void ReportGaps(CutOffsBlock block, List<CutOffRow> rows)
    {
        int? start = null;
        for (var month = ages.From.Months; month <= ages.To.Months + 1; month++)
        {
            var covered = month > ages.To.Months || rows.Exists(r => r.Ages.Contains(new Age(month)));
            if (!covered)
            {
                start ??= month;
            }
            else if (start is { } from)
            {
                var gap = new AgeRange(new Age(from), new Age(month - 1));
                Report(block, block.Outcome.Place, MeaningMessages.Uncovered(gap, month - from));
                start = null;
            }
        }
    }

    private void CheckOrder(CutOffsBlock block, List<Band> bands)
    {
        foreach (var order in _orders)
        {
            var shared = order.Select(b => bands.FindIndex(x => x.Name == b.Name)).Where(i => i >= 0).ToList();
            for (var i = 1; i < shared.Count; i++)
            {
                if (shared[i] < shared[i - 1])
                {
                    Report(block, block.Bands[shared[i]].Place, MeaningMessages.BandOrder(bands[shared[i]].Name, bands[shared[i - 1]].Name));
                    return;
                }
            }
        }

        foreach (var twice in bands.GroupBy(b => b.Name).Where(g => g.Count() > 1))
        {
            Report(block, block.Place, NameMessages.Twice("band in this table", twice.Key));
        }

        _orders.Add(bands);
    }

    private Basis BasisOf(CutOffsBlock block, int rows)
    {
        if (block.Bases.Count == 0)
        {
            Report(block, block.Outcome.Place, MeaningMessages.Missing(
                $"The cut-offs of {block.Outcome.Text} don't say what they rest on.",
                "Add a line such as: basis provisional \"awaiting the pilot\""
            ));
            return new Basis(BasisKind.Provisional, "", null, null, []) { IsProvisional = true };
        }

        if (block.Bases.Count > 1)
        {
            Report(block.Bases[1], block.Bases[1].Place, MeaningMessages.LineTwice("basis"));
        }

        var line = block.Bases[0];
        var kind = Enum.Parse<BasisKind>(line.Kind.Text, ignoreCase: true);
        int? children = WholeDetail(line, "n");
        var small = kind == BasisKind.Pilot && (children ?? 0) < Basis.SmallRow * Math.Max(1, rows);
        var details = line.Details.Where(d => d.What.Text != "n").Select(d => $"{d.What.Text} {d.Text?.Text ?? d.Number!.Number.ToString()}");
        return new Basis(kind, line.Text.Text, children, WholeDetail(line, "cases"), [.. details])
        {
            IsProvisional = kind == BasisKind.Provisional || small,
        };
    }

    private int? WholeDetail(BasisLine line, string what)
    {
        var detail = line.Details.FirstOrDefault(d => d.What.Text == what);
        if (detail is null)
        {
            return null;
        }

        if (detail.Number?.Number is { IsInteger: true, Sign: >= 0 } number && number < 10_000_000)
        {
            return (int)number.Numerator;
        }

        Report(line, detail.What.Place, MeaningMessages.Number($"{what} must be a whole number.", $"Write {what} 180, for example."));
        return null;
    }

    private int Line(CutOffTable table, Value value, Rational step)
    {
        var name = $"band.{table.Outcome.Name}{(table.ShortForm ? ".short" : "")}";
        var count = table.Bands.Count;
        IntExpr result = IntMath.Number(count + 1);
        for (var i = table.Rows.Count - 1; i >= 0; i--)
        {
            var row = table.Rows[i];
            var band = RowBand($"{name}.row-{i + 1}", table, row, value, step);
            var fits = Bools.And(Bools.AtLeast(answers.Age, row.Ages.From.Months), Bools.AtMost(answers.Age, row.Ages.To.Months));
            result = IntMath.Choose(fits, band, result);
        }

        result = IntMath.Choose(Bools.Equal(value.State, 1), IntMath.Number(count + 1), result);
        result = IntMath.Choose(Bools.AtLeast(value.State, 2), IntMath.Number(count + 2), result);
        if (answers.HasShortForm)
        {
            result = IntMath.Choose(Bools.Equal(answers.Form, table.ShortForm ? 1 : 0), result, IntMath.Number(count + 1));
        }

        var legend = string.Join(", ", table.Bands.Select((b, i) => $"{i} {b.Name}"));
        return program.Line(name, result, $"{legend}, {count} undecided, {count + 1} not applicable, {count + 2} blocked, {count + 3} in no band");
    }

    private IntExpr RowBand(string name, CutOffTable table, CutOffRow row, Value value, Rational step)
    {
        var low = program.Name($"{name}.low", BandOf(row, value.Low.Over, table.Bands.Count, step), $"band of the lower end at {row.Ages}");
        if (value.IsPoint)
        {
            return low;
        }

        var high = program.Name($"{name}.high", BandOf(row, value.High.Over, table.Bands.Count, step), $"band of the upper end at {row.Ages}");
        return IntMath.Choose(Bools.Equal(low, high), low, IntMath.Number(table.Bands.Count));
    }

    /// <summary>Cells as cases over the whole range of the value; what lies between them is in no band.</summary>
    private static IntExpr BandOf(CutOffRow row, IntExpr value, int bands, Rational step)
    {
        var cells = row
            .Cells.Select((cell, band) => (cell, band))
            .Where(c => c.cell is not null)
            .Select(c => (From: Steps(c.cell!.From, step), To: Steps(c.cell.To, step), c.band))
            .OrderBy(c => c.From);
        var cases = new List<PickCase>();
        var next = value.Low;
        foreach (var (from, to, band) in cells)
        {
            var start = Math.Max(from, next);
            if (start > value.High || to < start)
            {
                continue;
            }

            if (start > next)
            {
                cases.Add(new PickCase(next, start - 1, bands + 3));
            }

            cases.Add(new PickCase(start, Math.Min(to, value.High), band));
            next = Math.Min(to, value.High) + 1;
        }

        if (next <= value.High)
        {
            cases.Add(new PickCase(next, value.High, bands + 3));
        }

        return IntMath.Pick(value, cases);
    }

    private static long Steps(Rational number, Rational step)
    {
        var steps = (number / step).Numerator;
        return (long)System.Numerics.BigInteger.Min(
            System.Numerics.BigInteger.Max(steps, -ScoringProgram.Limit),
            ScoringProgram.Limit
        );
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
