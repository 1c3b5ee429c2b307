using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Every value a record reaches lies in one band of its row, and every band of a row is reached (R6).</summary>
internal static class BandProofs
{
    /// <param name="outcome">The outcome whose tables are proved; null: all.</param>
    public static void Run(ProofResults results, string? outcome)
    {
        foreach (
            var band in results.Program.Bands.Where(b => outcome is null || b.Table.Outcome.Name == outcome)
        )
        {
            var table = band.Table;
            var name = $"The cut-offs of {table.Outcome.Name}{(table.ShortForm ? ", short form" : "")}";
            var before = results.Findings.Count;
            var isWhole = results.Try(
                $"{name}: that every value has one band",
                table.Origin,
                () => Gaps(results, band)
            );
            _ =
                isWhole
                && results.Try(
                    $"{name}: that every band is reached",
                    table.Origin,
                    () => Unreached(results, band)
                );
            if (isWhole && results.Findings.Count == before)
            {
                results.Holds(
                    ProofTopic.Bands,
                    $"{name}: every value a child can reach lies in one band, and every band is reached."
                );
            }
        }
    }

    private static IEnumerable<Part> PartsOf(ProofResults results, CutOffTable table, bool untried) =>
        results.Parts(untried).Where(p => !results.Protocol.HasShortForm || (p.Form == 1) == table.ShortForm);

    private static void Gaps(ProofResults results, BandLine band)
    {
        var told = new HashSet<(Rational, Origin)>();
        foreach (var untried in new[] { false, true })
        {
            foreach (var part in PartsOf(results, band.Table, untried))
            {
                Gap(results, band, part, told);
            }
        }
    }

    private static void Gap(ProofResults results, BandLine band, Part part, HashSet<(Rational, Origin)> told)
    {
        var noBand = band.Table.Bands.Count + 3;
        if (!results.Questions.Values.Of(part, band.Line).Exists(v => v[0] == noBand))
        {
            return;
        }

        var outcome = results.Program.Outcomes.First(o => o.Outcome.Name == band.Table.Outcome.Name);
        int[] lines = [band.Line, outcome.LowLine];
        var values = results.Questions.Ask(part, lines);
        _ = values.Smallest(r => values.Value(r, 0) == noBand);
        var holes = Enumerable
            .Range(0, values.Count)
            .Where(r => values.Value(r, 0) == noBand)
            .OrderBy(r => values.Value(r, 1))
            .Select(r => (Value: values.Value(r, 1) * outcome.Scale, Row: r))
            .ToList();
        var row = band.Table.Rows.First(r => r.Ages.Contains(part.Ages.From));
        var fresh = holes.Where(h => told.Add((h.Value, row.Origin))).ToList();
        if (fresh.Count == 0)
        {
            return;
        }

        var smallest = fresh.MinBy(h => values.Cost(h.Row));
        var witness = results.Questions.Witness(part, values, smallest.Row, lines);
        var shown = string.Join(", ", fresh.Take(6).Select(h => h.Value.ToString()));
        var more = fresh.Count > 6 ? $" and {fresh.Count - 6} more" : "";
        var only = part.Untried ? " Only a record with an untried answer reaches it." : "";
        results.Findings.Add(
            new ProofFinding(
                ProofKind.Gap,
                row.Origin,
                $"{band.Table.Outcome.Name} can be {shown}{more}, which is in no band{results.Where(part)}.{only}",
                "Let the bands of this row meet, so that every value a child can reach has one.",
                [results.Sitting(part, witness, band.Table.Outcome)]
            )
        );
    }

    private static void Unreached(ProofResults results, BandLine band)
    {
        foreach (var row in band.Table.Rows)
        {
            var reached = new HashSet<long>();
            var parts = PartsOf(results, band.Table, untried: true)
                .Where(p => row.Ages.Overlaps(p.Ages))
                .ToList();
            foreach (var part in parts)
            {
                reached.UnionWith(results.Questions.Values.Of(part, band.Line).Select(v => v[0]));
            }

            for (var i = 0; i < band.Table.Bands.Count && parts.Count > 0; i++)
            {
                if (row.Cells[i] is { } cell && !reached.Contains(i))
                {
                    var range = cell.From == cell.To ? cell.From.ToString() : $"{cell.From} to {cell.To}";
                    results.Findings.Add(
                        new ProofFinding(
                            ProofKind.UnreachableBand,
                            row.Origin,
                            $"No child of {row.Ages} can reach {band.Table.Bands[i].Name}: {band.Table.Outcome.Name} is never {range}.",
                            "Correct the limits, or write none.",
                            []
                        )
                    );
                }
            }
        }
    }
}
