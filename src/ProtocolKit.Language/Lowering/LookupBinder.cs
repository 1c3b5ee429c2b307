using System.Numerics;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <param name="Step">The step of its results.</param>
internal sealed record BoundLookup(LookupTable Table, Rational Step);

/// <summary>Checks a table: ages and raw values once, all that can occur covered, results on their step.</summary>
/// <param name="ages">The protocol's; null where they are unknown.</param>
internal sealed class LookupBinder(AgeRange? ages, DiagnosticBag diagnostics)
{
    /// <summary>The table, or null after reporting.</summary>
    /// <param name="raw">The raw value, in whole steps.</param>
    public BoundLookup? Bind(OutcomeBlock block, string title, Value raw)
    {
        var body = block.Lookup!;
        var columns = body.Ages.Select(a => Ages.Bind(a, block.Source, diagnostics)).ToList();
        var basis = new BasisBinder(diagnostics).Bind(
            block,
            block.Name.Place,
            $"The table {block.Name.Text} doesn't say what it rests on.",
            body.Bases,
            body.Ages.Count
        );
        if (block.Incomplete || columns.Contains(null))
        {
            return null;
        }

        var ranges = columns.Select(c => c!.Value).ToList();
        var isWhole = CheckAges(block, ranges);
        var rows = Rows(block, raw.Scale);
        var step = Step(block);
        if (!isWhole || rows is null || step is null || !CheckCover(block, rows, ranges, raw))
        {
            return null;
        }

        return new BoundLookup(
            new LookupTable(body.Of.Text, title, raw.Unit, ranges, rows, basis),
            step.Value
        );
    }

    private bool CheckAges(OutcomeBlock block, List<AgeRange> columns)
    {
        if (ages is not { } all)
        {
            return false;
        }

        var isWhole = true;
        var owners = new AgeRange?[1200];
        for (var i = 0; i < columns.Count; i++)
        {
            var place = block.Lookup!.Ages[i].Place;
            if (columns[i].From < all.From || columns[i].To > all.To)
            {
                Report(block, place, MeaningMessages.Outside(columns[i], all));
                isWhole = false;
            }

            AgeRange? other = null;
            for (var month = columns[i].From.Months; month <= columns[i].To.Months; month++)
            {
                other ??= owners[month];
                owners[month] ??= columns[i];
            }

            if (other is { } first)
            {
                diagnostics.Clash(
                    (block.Source, place),
                    (block.Source, block.Lookup.Ages[columns.IndexOf(first)].Place),
                    ScoreMessages.ColumnsOverlap(first, columns[i])
                );
                isWhole = false;
            }
        }

        foreach (var (from, to) in Runs(all.From.Months, all.To.Months, month => owners[(int)month] is null))
        {
            var gap = new AgeRange(new Age((int)from), new Age((int)to));
            Report(block, block.Name.Place, ScoreMessages.NoColumn(gap, (int)(to - from) + 1));
            isWhole = false;
        }

        return isWhole;
    }

    private List<LookupRow>? Rows(OutcomeBlock block, Rational step)
    {
        var rows = new List<(LookupRow Row, LookupRowLine Line)>();
        var isWhole = true;
        foreach (var line in block.Lookup!.Rows)
        {
            if (Row(line, step) is not { } row)
            {
                isWhole = false;
                continue;
            }

            var other = rows.Find(r => r.Row.From <= row.To && row.From <= r.Row.To);
            if (other.Row is { } shared)
            {
                var from = shared.From < row.From ? row.From : shared.From;
                var to = shared.To < row.To ? shared.To : row.To;
                diagnostics.Clash(
                    (line.Source, line.Raw.Place),
                    (other.Line.Source, other.Line.Raw.Place),
                    ScoreMessages.RawTwice(Span(from, to))
                );
                isWhole = false;
            }

            rows.Add((row, line));
        }

        return isWhole ? [.. rows.Select(r => r.Row)] : null;
    }

    private LookupRow? Row(LookupRowLine line, Rational step)
    {
        var (from, to) = (line.Raw.From.Number!.Value, line.Raw.To.Number!.Value);
        if (from > to)
        {
            Report(line, line.Raw.Place, NumberMessages.Backwards(from.ToString(), to.ToString()));
            return null;
        }

        foreach (var (number, place) in new[] { (from, line.Raw.From.Place), (to, line.Raw.To.Place) })
        {
            if (!number.TryCountSteps(step, out _))
            {
                Report(line, place, NumberMessages.OffStep(number, step));
                return null;
            }
        }

        return new LookupRow(from, to, [.. line.Cells.Select(c => c.Number?.Number)]);
    }

    /// <summary>The stated step, which every result lies on; else the common step of the results.</summary>
    private Rational? Step(OutcomeBlock block)
    {
        var cells = block.Lookup!.Rows.SelectMany(r => r.Cells.Select(c => (Line: r, Cell: c)));
        var step = block.Step?.Number;
        var common = Rational.Zero;
        foreach (var (line, cell) in cells)
        {
            if (cell.Number?.Number is not { } number)
            {
                continue;
            }

            common = Rational.CommonStep(common, number);
            if (step is { Sign: > 0 } grid && !number.TryCountSteps(grid, out _))
            {
                Report(line, cell.Place, NumberMessages.OffStep(number, grid));
                return null;
            }
        }

        return step is { Sign: > 0 } ? step
            : common.Sign > 0 && !common.IsInteger ? common
            : Rational.One;
    }

    /// <summary>Everything between the proved ends of the raw value has a result at every age.</summary>
    private bool CheckCover(OutcomeBlock block, List<LookupRow> rows, List<AgeRange> columns, Value raw)
    {
        var isWhole = true;
        var told = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < columns.Count; i++)
        {
            var column = i;
            var covered = rows.Where(r => r.Results[column] is not null)
                .Select(r => (From: Steps(r.From, raw.Scale), To: Steps(r.To, raw.Scale)))
                .OrderBy(r => r.From)
                .ToList();
            foreach (var (from, to) in Holes(raw.Low.Over.Low, raw.High.Over.High, covered))
            {
                isWhole = false;
                var span = Span(raw.Scale * from, raw.Scale * to);
                if (told.Add(span))
                {
                    var what = from == to ? $"The raw value {span}" : $"A raw value from {span}";
                    Report(block, block.Name.Place, ScoreMessages.NoResultFor(what, columns[i]));
                }
            }
        }

        return isWhole;
    }

    private static IEnumerable<(long From, long To)> Holes(
        long low,
        long high,
        List<(BigInteger From, BigInteger To)> covered
    )
    {
        BigInteger next = low;
        foreach (var (from, to) in covered)
        {
            if (from > next)
            {
                yield return ((long)next, (long)BigInteger.Min(from - 1, high));
            }

            next = BigInteger.Max(next, to + 1);
            if (next > high)
            {
                yield break;
            }
        }

        yield return ((long)next, high);
    }

    private static IEnumerable<(long From, long To)> Runs(long low, long high, Func<long, bool> isIn)
    {
        long? start = null;
        for (var at = low; at <= high + 1; at++)
        {
            if (at <= high && isIn(at))
            {
                start ??= at;
            }
            else if (start is { } from)
            {
                yield return (from, at - 1);
                start = null;
            }
        }
    }

    private static string Span(Rational from, Rational to) => from == to ? $"{from}" : $"{from} to {to}";

    private static BigInteger Steps(Rational number, Rational step) => (number / step).Numerator;

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
