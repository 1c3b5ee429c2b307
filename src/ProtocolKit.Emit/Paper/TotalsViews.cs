using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>The totals page: scores, their bands by age, and the actions. It stays out of the room.</summary>
internal static class TotalsViews
{
    public static TotalsView Of(Protocol protocol, OutputOptions options)
    {
        var tables = protocol.CutOffs.Where(t => t.ShortForm == options.ShortForm).ToList();
        OutcomeView Of(Outcome outcome) => OfOutcome(protocol, outcome, options);
        var banded = tables.Select(t => Banded(protocol, t, options)).Where(t => t.Rows.Count > 0).ToList();
        var inTables = tables.Select(t => t.Outcome.Name).ToHashSet(StringComparer.Ordinal);
        var others = protocol
            .Outcomes.Where(o =>
                !inTables.Contains(o.Name) && o.Step is not null && CanBeFilled(protocol, o, options)
            )
            .Select(Of)
            .ToList();
        return new(banded, others, Actions(protocol), banded.Any(b => b.Provisional));
    }

    /// <summary>The most severe first, with when each applies.</summary>
    public static IReadOnlyList<ActionView> Actions(Protocol protocol) =>
        protocol
            .Actions.Select(a => new ActionView(
                a.Title,
                a.Urgency,
                a.Conditions.Select(c => FormulaWords.Of(protocol, c)).ToList()
            ))
            .ToList();

    public static BandedView Banded(Protocol protocol, CutOffTable table, OutputOptions options) =>
        new(
            OfOutcome(protocol, table.Outcome, options),
            table.Bands.Select(b => b.Text).ToList(),
            table
                .Rows.Where(r => options.Age is not { } age || r.Ages.Contains(age))
                .Select(r => new BandRowView(r.Ages.ToString(), r.Cells.Select(Cell).ToList()))
                .ToList(),
            table.Basis.IsProvisional,
            BasisText(table.Basis)
        );

    public static OutcomeView OfOutcome(Protocol protocol, Outcome outcome, OutputOptions options)
    {
        var unit = outcome.Unit.IsPure ? "1" : outcome.Unit.ToString();
        var range = $"{outcome.Low} to {outcome.High}" + (unit == "1" ? "" : $" {unit}");
        var timing = outcome.TimingError is null ? null : $"Timed by hand, within {outcome.TimingError}.";
        var formula = outcome.Table is { } table
            ? $"Look up {table.OfTitle} under the child’s age"
            : Words.Sentence(FormulaWords.Of(protocol, outcome.Formula))
                + OfUntried(outcome)
                + OfSides(outcome);
        return new(outcome.Title, formula, range, timing) { Table = LookupOf(outcome.Table, options) };
    }

    /// <summary>Only the child's column where the sheet is for one age.</summary>
    private static LookupView? LookupOf(LookupTable? table, OutputOptions options)
    {
        if (table is null)
        {
            return null;
        }

        var columns = Enumerable
            .Range(0, table.Ages.Count)
            .Where(i => options.Age is not { } age || table.Ages[i].Contains(age))
            .ToList();
        return new LookupView(
            table.OfTitle,
            [.. columns.Select(i => table.Ages[i].ToString())],
            [
                .. table
                    .Rows.OrderBy(r => r.From)
                    .Select(r => new BandRowView(
                        r.From == r.To ? r.From.ToString() : $"{r.From} to {r.To}",
                        [.. columns.Select(i => r.Results[i]?.ToString() ?? "–")]
                    )),
            ],
            table.Basis.IsProvisional,
            BasisText(table.Basis)
        );
    }

    private static string OfSides(Outcome outcome) =>
        outcome.SidesAgree is { } agree
            ? $"; no number where a side is untried. The weaker side is the one that {(agree == 1 ? "1 task shows" : $"{agree} tasks agree on")}, and more than show the other"
            : "";

    private static string OfUntried(Outcome outcome) =>
        outcome.Untried switch
        {
            UntriedPolicy.ScaledUp =>
                $"; up to {outcome.ScaledUpAtMost} untried made up for by points, more: no score",
            UntriedPolicy.Blocks => "; no score where one is untried",
            _ => "",
        };

    private static string Cell(CutOffCell? cell) =>
        cell is null ? "–"
        : cell.From == cell.To ? cell.From.ToString()
        : $"{cell.From} to {cell.To}";

    private static string BasisText(Basis basis)
    {
        var kind = basis.Kind switch
        {
            BasisKind.Published => "Published",
            BasisKind.Pilot => "Own pilot",
            _ => "No basis yet",
        };
        var text = basis.Text.Length > 0 ? $"{kind}: {basis.Text}" : kind;
        return basis.Children is { } children ? $"{text} (n {children})" : text;
    }

    /// <summary>On the short form only what its own tasks can fill.</summary>
    private static bool CanBeFilled(Protocol protocol, Outcome outcome, OutputOptions options)
    {
        if (!options.ShortForm)
        {
            return true;
        }

        var inForm = protocol
            .Tasks.Where(t => t.ShortForm)
            .Select(t => t.Name)
            .ToHashSet(StringComparer.Ordinal);
        var lines = protocol.Program.Outcomes.FirstOrDefault(o => o.Outcome.Name == outcome.Name);
        return lines is null || lines.Reads.All(key => inForm.Contains(key.Split('.')[0]));
    }
}
