using ProtocolKit.Model;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Whether the bands of a row get better with larger values, or with smaller ones.</summary>
internal static class TableOrder
{
    /// <summary>Both where the row has one band or none; neither where the bands stand in no order.</summary>
    public static (bool Rises, bool Falls) Of(CutOffTable table, Age age)
    {
        var row = table.Rows.FirstOrDefault(r => r.Ages.Contains(age));
        if (row is null)
        {
            return (true, true);
        }

        var bands = row
            .Cells.Select((c, i) => (Cell: c, Band: i))
            .Where(c => c.Cell is not null)
            .OrderBy(c => c.Cell!.From)
            .Select(c => c.Band)
            .ToList();
        var steps = bands.Zip(bands.Skip(1)).ToList();
        return (steps.TrueForAll(s => s.First < s.Second), steps.TrueForAll(s => s.First > s.Second));
    }

    /// <summary>
    /// Between each two neighbouring bands of a row the last value of the lower and the first of the higher one, in steps of a line;
    /// null where they are no whole steps.
    /// </summary>
    public static IReadOnlyList<(long Low, long High)>? Limits(CutOffTable table, Age age, Rational step)
    {
        var cells = (table.Rows.FirstOrDefault(r => r.Ages.Contains(age))?.Cells ?? [])
            .OfType<CutOffCell>()
            .OrderBy(c => c.From)
            .ToList();
        var limits = cells.Zip(cells.Skip(1), (a, b) => (Low: a.To / step, High: b.From / step)).ToList();
        return limits.TrueForAll(l => l.Low.IsInteger && l.High.IsInteger)
            ? [.. limits.Select(l => ((long)l.Low.Numerator, (long)l.High.Numerator))]
            : null;
    }
}
