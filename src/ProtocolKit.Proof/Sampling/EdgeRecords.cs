using ProtocolKit.Model;

namespace ProtocolKit.Proof.Sampling;

/// <param name="Outcome">The measure or score.</param>
/// <param name="Value">In its unit: a limit of a band, or a step beside one.</param>
/// <param name="Band">The band the value lies in.</param>
/// <param name="Smallest">True for the one closest to the flawless sheet, false for one drawn from all with this value.</param>
/// <param name="Fields">One value per field of the scoring program.</param>
public sealed record EdgeRecord(
    Outcome Outcome,
    Rational Value,
    string Band,
    bool Smallest,
    IReadOnlyList<long> Fields
);

/// <summary>
/// Records at the edges of bands: for every value within a step of a limit that some record reaches, the smallest such record
/// and one drawn uniformly from all of them.
/// </summary>
public static class EdgeRecords
{
    /// <summary>Every edge of every cut-off table at each of its ages, full form before short form.</summary>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public static IEnumerable<EdgeRecord> Of(Protocol protocol, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var generator = new Xoshiro256(seed);
        foreach (var table in protocol.Program.Bands)
        {
            var outcome = protocol.Program.Outcomes.First(o => o.Outcome.Name == table.Table.Outcome.Name);
            foreach (var row in table.Table.Rows)
            {
                var smallest = new SmallestRecords(protocol, row.Ages.From, table.Table.ShortForm);
                var sampler = new RecordSampler(protocol, row.Ages, table.Table.ShortForm);
                foreach (var value in ValuesNear(row, outcome.Scale))
                {
                    var name = table.Table.Outcome.Name;
                    var target = new RecordTarget.Total(name, value);
                    if (smallest.For(target) is not { } first)
                    {
                        continue;
                    }

                    var band = BandOf(table.Table, row, value);
                    yield return new EdgeRecord(outcome.Outcome, value, band, true, first);
                    var drawn = sampler.Draw(target, 1, generator).First();
                    yield return new EdgeRecord(outcome.Outcome, value, band, false, drawn);
                }
            }
        }
    }

    /// <summary>The limits of a row's bands, with the step below and above each, ascending.</summary>
    public static IReadOnlyCollection<Rational> ValuesNear(CutOffRow row, Rational step)
    {
        ArgumentNullException.ThrowIfNull(row);
        var limits = row.Cells.OfType<CutOffCell>().SelectMany(c => new[] { c.From, c.To });
        return new SortedSet<Rational>(limits.SelectMany(l => new[] { l - step, l, l + step }));
    }

    private static string BandOf(CutOffTable table, CutOffRow row, Rational value)
    {
        for (var i = 0; i < table.Bands.Count; i++)
        {
            if (row.Cells[i] is { } cell && cell.From <= value && value <= cell.To)
            {
                return table.Bands[i].Name;
            }
        }

        return RecordTarget.NoBand[3];
    }
}
