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
    AgeRange? ages,
    bool headerIsWhole,
    DiagnosticBag diagnostics
)
{
    private readonly List<BandLine> _lines = [];
    private readonly CutOffChecks _checks = new(ages, diagnostics);

    public IReadOnlyList<BandLine> Lines => _lines;

    /// <summary>
    /// The table, or null where its outcome is unknown or has a mistake; ages, limits and basis are checked all the same.
    /// </summary>
    public LoweredTable? Lower(CutOffsBlock block)
    {
        var found = OutcomeOf(block);
        _checks.Once(block);
        if (block.ShortForm && !answers.HasShortForm && headerIsWhole)
        {
            Report(
                block,
                block.Place,
                MeaningMessages.ShortForm(
                    "This protocol has no short form.",
                    "Add short form … min to the header, or remove it here."
                )
            );
        }

        var bands = BandsOf(block);
        _checks.Order(block, bands);
        var rows = block.Rows.Select(r => Row(r, found?.Outcome.Step, bands)).OfType<CutOffRow>().ToList();
        _checks.Ages(block, rows);
        var basis = new BasisBinder(diagnostics).Bind(
            block,
            block.Outcome.Place,
            $"The cut-offs of {block.Outcome.Text} don't say what they rest on.",
            block.Bases,
            rows.Count
        );
        if (found is not var (outcome, value) || outcome.Step is not { } step)
        {
            return null;
        }

        var table = new CutOffTable(
            outcome,
            block.ShortForm,
            bands,
            rows,
            basis,
            block.Source.OriginOf(block.Outcome.Place)
        )
        {
            WorseOnPurpose = WorseOnPurpose(block.Worse, block.Source, diagnostics),
        };
        if (Bools.IsFalse(answers.AnyLeftOut(value.Reads)))
        {
            foreach (var row in block.Rows.Where(r => r.AlsoWithLeftOut))
            {
                Report(row, row.Place, RoutingMessages.LeftOutRow(outcome.Name));
            }
        }

        var line = Line(table, value, step);
        _lines.Add(new BandLine(table, line));
        var last = (long)bands.Count + 3;
        return new LoweredTable(table, new LineValue(line, 0, last));
    }

    /// <summary>A table anew; null after reporting. What was handed out stays as it was.</summary>
    public (BandLine Line, LoweredTable Table)? Again(CutOffsBlock old, CutOffsBlock block, Undo undo)
    {
        var made = _lines.Count;
        _checks.Forget(old, undo);
        _checks.ForgetAfter(block, undo);
        if (!old.HasBandsOf(block))
        {
            _checks.ForgetOrders(undo);
            foreach (var table in declared.CutOffs)
            {
                _checks.Order(table, BandsOf(table));
            }
        }

        var lowered = Lower(block);
        var line = _lines.Count > made ? _lines[made] : null;
        _lines.RemoveRange(made, _lines.Count - made);
        return lowered is null ? null : (line!, lowered);
    }

    /// <summary>The reason, or null; a second one is told.</summary>
    internal static string? WorseOnPurpose(
        List<WorseOnPurposeLine> lines,
        SourceText source,
        DiagnosticBag diagnostics
    )
    {
        if (lines.Count > 1)
        {
            diagnostics.Report(source, lines[1].Place, MeaningMessages.LineTwice("worse on purpose"));
        }

        return lines.Count == 0 ? null : lines[0].Reason.Text;
    }

    private List<Band> BandsOf(CutOffsBlock block) => [.. block.Bands.Select(b => vocabulary.Band(b.Text))];

    private (Outcome Outcome, Value Value)? OutcomeOf(CutOffsBlock block)
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

        if (
            outcomes.ValueOf(name.Text, name.Place, block.Source) is not { } value
            || outcomes.Find(name.Text) is not { } outcome
        )
        {
            return null;
        }

        if (outcome.Step is null)
        {
            Report(block, name.Place, NumberMessages.Step(name.Text, "it has cut-offs"));
        }

        return (outcome, value);
    }

    private CutOffRow? Row(CutOffRowLine line, Rational? step, List<Band> bands)
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
        return new CutOffRow(range, cells, line.Source.OriginOf(line.Place))
        {
            AlsoWithLeftOut = line.AlsoWithLeftOut,
        };
    }

    private CutOffCell? Cell(CutOffRowLine line, CutOffCellValue cell, Rational? step)
    {
        if (
            cell.Range is not { } range
            || range.From.Number is not { } low
            || range.To.Number is not { } high
        )
        {
            return null;
        }

        if (low > high)
        {
            Report(line, range.Place, NumberMessages.Backwards(low.ToString(), high.ToString()));
            return null;
        }

        foreach (var (number, place) in new[] { (low, range.From.Place), (high, range.To.Place) })
        {
            if (step is { } grid && !number.TryCountSteps(grid, out _))
            {
                Report(line, place, NumberMessages.OffStep(number, grid));
                return null;
            }
        }

        return new CutOffCell(low, high);
    }

    private void CheckOverlap(CutOffRowLine line, List<CutOffCell?> cells, List<Band> bands)
    {
        var sorted = cells
            .Select((cell, band) => (cell, band))
            // Where the heading can't be read, or a row has more cells than it, there are cells of no band.
            .Where(c => c.cell is not null && c.band < bands.Count)
            .Select(c => (Cell: c.cell!, Band: c.band))
            .OrderBy(c => c.Cell.From)
            .ToList();
        for (var i = 1; i < sorted.Count; i++)
        {
            var (a, b) = (sorted[i - 1], sorted[i]);
            if (b.Cell.From <= a.Cell.To)
            {
                var to = a.Cell.To < b.Cell.To ? a.Cell.To : b.Cell.To;
                var shared = b.Cell.From == to ? to.ToString() : $"{b.Cell.From} to {to}";
                var (left, right) = a.Band < b.Band ? (a, b) : (b, a);
                diagnostics.Clash(
                    (line.Source, line.Cells[right.Band].Place),
                    (line.Source, line.Cells[left.Band].Place),
                    MeaningMessages.BandsOverlap(shared, bands[left.Band].Name, bands[right.Band].Name)
                );
            }
        }
    }

    private int Line(CutOffTable table, Value value, Rational step)
    {
        var name = $"band.{table.Outcome.Name}{(table.ShortForm ? ".short" : "")}";
        var count = table.Bands.Count;
        IntExpr result = IntMath.Number(count + 1);
        var leftOut = program.Name(
            $"{name}.left-out",
            answers.AnyLeftOut(value.Reads),
            "a task it rests on was left out, so that rows made for the full range don't hold"
        );
        for (var i = table.Rows.Count - 1; i >= 0; i--)
        {
            var row = table.Rows[i];
            var band = RowBand($"{name}.row-{i + 1}", table, row, value, step);
            if (!row.AlsoWithLeftOut)
            {
                band = IntMath.Choose(leftOut, IntMath.Number(count + 1), band);
            }

            var fits = Bools.And(
                Bools.AtLeast(answers.Age, row.Ages.From.Months),
                Bools.AtMost(answers.Age, row.Ages.To.Months)
            );
            result = IntMath.Choose(fits, band, result);
        }

        result = IntMath.Choose(Bools.Equal(value.State, 1), IntMath.Number(count + 1), result);
        result = IntMath.Choose(Bools.AtLeast(value.State, 2), IntMath.Number(count + 2), result);
        if (answers.HasShortForm)
        {
            result = IntMath.Choose(
                Bools.Equal(answers.Form, table.ShortForm ? 1 : 0),
                result,
                IntMath.Number(count + 1)
            );
        }

        var legend = string.Join(", ", table.Bands.Select((b, i) => $"{i} {b.Name}"));
        return program.Line(
            name,
            result,
            $"{legend}, {count} undecided, {count + 1} not applicable, {count + 2} blocked, {count + 3} in no band"
        );
    }

    private IntExpr RowBand(string name, CutOffTable table, CutOffRow row, Value value, Rational step)
    {
        var cells = CellsOf(row, step);
        var low = program.Name(
            $"{name}.low",
            BandOf(cells, value.Low.Over, table.Bands.Count),
            $"band of the lower end at {row.Ages}"
        );
        if (value.IsPoint)
        {
            return low;
        }

        var high = program.Name(
            $"{name}.high",
            BandOf(cells, value.High.Over, table.Bands.Count),
            $"band of the upper end at {row.Ages}"
        );
        // Both ends in no band may lie in different holes, with a band between them.
        var noBand = table.Bands.Count + 3;
        var isPoint = Bools.Equal(value.Low.Over, value.High.Over);
        var sameBand = Bools.And(
            Bools.Equal(low, high),
            Bools.Or(Bools.Not(Bools.Equal(low, noBand)), isPoint)
        );
        return IntMath.Choose(sameBand, low, IntMath.Number(table.Bands.Count));
    }

    /// <summary>A row's cells in steps, from the lowest on, each with the number of its band.</summary>
    private static List<(long From, long To, int Band)> CellsOf(CutOffRow row, Rational step)
    {
        var cells = new List<(long From, long To, int Band)>(row.Cells.Count);
        for (var band = 0; band < row.Cells.Count; band++)
        {
            if (row.Cells[band] is { } cell)
            {
                cells.Add((Steps(cell.From, step), Steps(cell.To, step), band));
            }
        }

        return [.. cells.OrderBy(c => c.From)];
    }

    /// <summary>Cells as cases over the whole range of the value; what lies between them is in no band.</summary>
    private static IntExpr BandOf(List<(long From, long To, int Band)> cells, IntExpr value, int bands)
    {
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
        return (long)
            System.Numerics.BigInteger.Min(
                System.Numerics.BigInteger.Max(steps, -ScoringProgram.Limit),
                ScoringProgram.Limit
            );
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
