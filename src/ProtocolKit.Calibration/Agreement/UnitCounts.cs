using System.Runtime.InteropServices;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>A value of the scale, by its place there, and how often a unit holds it.</summary>
internal record struct CountedValue(int Code, int Count);

/// <summary>
/// How often each value occurs in each unit. Units with fewer than two values are left out, and so are values that occur in
/// no other unit.
/// </summary>
internal sealed class UnitCounts
{
    private readonly List<CountedValue> _entries; // unit after unit
    private readonly List<int> _ends = []; // where each unit's entries end

    private UnitCounts(RatingMatrix ratings)
    {
        var scale = ValueScale.Of(ratings);
        var counts = new int[scale.Values.Length];
        _entries = new List<CountedValue>(ratings.Subjects * Math.Min(ratings.Raters, counts.Length));
        var packs = counts.Length > 0 && scale.IsDirect && PackedCounts.Fit(counts.Length, ratings.Raters);
        for (var unit = 0; unit < ratings.Subjects; unit++)
        {
            if (packs)
            {
                AddPacked(ratings.Row(unit), scale.Values);
            }
            else
            {
                AddLookedUp(ratings.Row(unit), scale, counts);
            }

            EndUnit();
        }

        Require.AtLeast(_ends.Count, 1, "Units with two or more values");
        (Values, Totals) = Renumber(scale.Values);
    }

    public static UnitCounts Of(RatingMatrix ratings) => new(ratings);

    /// <summary>The values that occur, ascending; a code is a place in this list.</summary>
    public double[] Values { get; }

    /// <summary>How often each value occurs in all units.</summary>
    public double[] Totals { get; }

    public int Units => _ends.Count;

    /// <summary>The values of one unit, each once.</summary>
    public ReadOnlySpan<CountedValue> this[int unit] =>
        Entries[(unit == 0 ? 0 : _ends[unit - 1]).._ends[unit]];

    private Span<CountedValue> Entries => CollectionsMarshal.AsSpan(_entries);

    private void AddPacked(ReadOnlySpan<double> cells, double[] values)
    {
        var packed = PackedCounts.Of(cells, values[0]);
        for (var code = 0; code < values.Length; code++)
        {
            Add(code, PackedCounts.Count(packed, code));
        }
    }

    /// <summary>The scratch counts are zero before and after.</summary>
    private void AddLookedUp(ReadOnlySpan<double> cells, ValueScale scale, int[] counts)
    {
        foreach (var cell in cells)
        {
            if (!double.IsNaN(cell))
            {
                counts[scale.Code(cell)]++;
            }
        }

        foreach (var cell in cells)
        {
            if (!double.IsNaN(cell))
            {
                var code = scale.Code(cell);
                Add(code, counts[code]);
                counts[code] = 0;
            }
        }
    }

    private void Add(int code, int count)
    {
        if (count > 0)
        {
            _entries.Add(new CountedValue(code, count));
        }
    }

    private void EndUnit()
    {
        var start = _ends.Count == 0 ? 0 : _ends[^1];
        if (_entries.Count - start > 1 || (_entries.Count > start && _entries[start].Count > 1))
        {
            _ends.Add(_entries.Count);
        }
        else
        {
            _entries.RemoveRange(start, _entries.Count - start);
        }
    }

    /// <summary>The values that remain once single ratings have dropped out, and their totals; codes are renumbered.</summary>
    private (double[] Values, double[] Totals) Renumber(double[] values)
    {
        var totals = new double[values.Length];
        foreach (var (code, count) in Entries)
        {
            totals[code] += count;
        }

        var (number, next) = (new int[values.Length], 0);
        for (var i = 0; i < values.Length; i++)
        {
            number[i] = next;
            next += totals[i] > 0 ? 1 : 0;
        }

        foreach (ref var entry in Entries)
        {
            entry.Code = number[entry.Code];
        }

        return ([.. values.Where((_, i) => totals[i] > 0)], [.. totals.Where(t => t > 0)]);
    }
}
