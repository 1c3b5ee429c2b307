using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Whether cut-off tables cover the ages once, agree on the order of their bands, and say what they rest on.</summary>
/// <param name="ages">The protocol's; null where they are unknown.</param>
internal sealed class CutOffChecks(AgeRange? ages, DiagnosticBag diagnostics)
{
    private readonly List<(IReadOnlyList<Band> Bands, CutOffsBlock Block)> _orders = [];
    private readonly AgeRange?[] _owners = new AgeRange?[1200];
    private readonly HashSet<string> _known = new(StringComparer.Ordinal);
    private readonly Dictionary<(string Outcome, bool ShortForm), CutOffsBlock> _tables = [];

    /// <summary>One table for each measure or score and form: two would give a child two bands.</summary>
    public void Once(CutOffsBlock block)
    {
        var key = (block.Outcome.Text, block.ShortForm);
        if (!_tables.TryAdd(key, block))
        {
            var first = _tables[key];
            diagnostics.Report(
                block.Source,
                block.Outcome.Place,
                NameMessages.CutOffsTwice(block.Outcome.Text),
                new Related(first.Source, first.Outcome.Place, "The first table is here.")
            );
        }
    }

    /// <summary>Before the same table is lowered anew: it is not its own second one.</summary>
    public void Forget(CutOffsBlock block, Undo undo)
    {
        var key = (block.Outcome.Text, block.ShortForm);
        var before = _tables[key];
        _tables.Remove(key);
        undo.Add(() => _tables[key] = before);
    }

    /// <summary>After a table under another heading was lowered in the place of one.</summary>
    public void ForgetAfter(CutOffsBlock block, Undo undo) =>
        undo.Add(() => _tables.Remove((block.Outcome.Text, block.ShortForm)));

    public void Ages(CutOffsBlock block, List<CutOffRow> rows)
    {
        Array.Clear(_owners);
        Dictionary<int, Place>? places = null;
        foreach (var row in rows)
        {
            if (ages is { } all && (row.Ages.From < all.From || row.Ages.To > all.To))
            {
                Report(block, AgesOf(row), MeaningMessages.Outside(row.Ages, all));
            }

            if (Own(_owners, row.Ages) is { } first)
            {
                var earlier = rows.First(r => r.Ages == first);
                diagnostics.Clash(
                    (block.Source, AgesOf(row)),
                    (block.Source, AgesOf(earlier)),
                    MeaningMessages.RowsOverlap(first, row.Ages)
                );
            }
        }

        if (rows.Count == block.Rows.Count && !block.Incomplete && ages is { } whole)
        {
            ReportGaps(block, _owners, whole);
        }

        // Only mistakes ask where a row's ages are written.
        Place AgesOf(CutOffRow row) =>
            (
                places ??= block
                    .Rows.GroupBy(r => r.Place.Line)
                    .ToDictionary(g => g.Key, g => g.First().Ages.Place)
            )[row.Origin.Line];
    }

    /// <summary>Takes the months of a row; gives the first row that has one of them already.</summary>
    private static AgeRange? Own(AgeRange?[] owners, AgeRange row)
    {
        AgeRange? other = null;
        for (var month = row.From.Months; month <= row.To.Months; month++)
        {
            other ??= owners[month];
            owners[month] ??= row;
        }

        return other;
    }

    private void ReportGaps(CutOffsBlock block, AgeRange?[] owners, AgeRange whole)
    {
        int? start = null;
        for (var month = whole.From.Months; month <= whole.To.Months + 1; month++)
        {
            var covered = month > whole.To.Months || owners[month] is not null;
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

    /// <summary>Before the order of all tables' bands is checked again.</summary>
    public void ForgetOrders(Undo undo)
    {
        var (orders, known) = (_orders.ToList(), _known.ToList());
        undo.Add(() =>
        {
            _orders.Clear();
            _orders.AddRange(orders);
            _known.Clear();
            _known.UnionWith(known);
        });
        _orders.Clear();
        _known.Clear();
    }

    public void Order(CutOffsBlock block, List<Band> bands)
    {
        if (!_known.Add(string.Join(' ', bands.Select(b => b.Name))))
        {
            return;
        }

        var places = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < bands.Count; i++)
        {
            places.TryAdd(bands[i].Name, i);
        }

        foreach (var (order, first) in _orders)
        {
            var shared = order.Where(b => places.ContainsKey(b.Name)).Select(b => places[b.Name]).ToList();
            for (var i = 1; i < shared.Count; i++)
            {
                if (shared[i] < shared[i - 1])
                {
                    diagnostics.Clash(
                        (block.Source, block.Bands[shared[i]].Place),
                        (first.Source, first.Bands[0].Place),
                        MeaningMessages.BandOrder(bands[shared[i]].Name, bands[shared[i - 1]].Name)
                    );
                    return;
                }
            }
        }

        foreach (var twice in bands.GroupBy(b => b.Name).Where(g => g.Count() > 1))
        {
            var both = block.Bands.Where(b => b.Text == twice.Key).Select(b => b.Place).ToList();
            diagnostics.Clash(
                (block.Source, both[1]),
                (block.Source, both[0]),
                NameMessages.Twice("band in this table", twice.Key)
            );
        }

        // Most tables share one order, and one of them speaks for all.
        if (!_orders.Exists(o => o.Bands.Select(b => b.Name).SequenceEqual(bands.Select(b => b.Name))))
        {
            _orders.Add((bands, block));
        }
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
