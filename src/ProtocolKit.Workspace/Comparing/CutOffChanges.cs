using ProtocolKit.Model;
using static ProtocolKit.Workspace.Comparing.Matching;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>Cut-off tables, cell by cell.</summary>
internal static class CutOffChanges
{
    public static IEnumerable<string> Of(Protocol old, Protocol @new)
    {
        foreach (var (before, after) in Pairs(old.CutOffs, @new.CutOffs, Name))
        {
            if (before is null || after is null)
            {
                yield return before is null ? $"{Title(after!)} are new." : $"{Title(before)} are taken out.";
                continue;
            }

            foreach (var change in Table(before, after))
            {
                yield return $"{Title(after)}: {change}";
            }
        }
    }

    private static IEnumerable<string> Table(CutOffTable old, CutOffTable @new)
    {
        if (!old.Bands.Select(b => b.Name).SequenceEqual(@new.Bands.Select(b => b.Name)))
        {
            yield return $"the bands are {Names(@new)} instead of {Names(old)}.";
        }

        foreach (var (before, after) in Pairs(old.Rows, @new.Rows, r => r.Ages.ToString()))
        {
            if (before is null)
            {
                yield return $"ages {after!.Ages} have a row: {Row(@new, after)}.";
            }
            else if (after is null)
            {
                yield return $"ages {before.Ages} have no row of their own any more ({Row(old, before)}).";
            }
            else
            {
                if (before.AlsoWithLeftOut != after.AlsoWithLeftOut)
                {
                    yield return after.AlsoWithLeftOut
                        ? $"the row {after.Ages} holds with tasks left out too."
                        : $"the row {after.Ages} no longer holds with tasks left out.";
                }

                foreach (var change in Cells(old, before, @new, after))
                {
                    yield return change;
                }
            }
        }

        if (old.WorseOnPurpose != @new.WorseOnPurpose)
        {
            yield return @new.WorseOnPurpose is { } why
                ? $"a better sitting may get a worse band: {why}"
                : "a better sitting may not get a worse band any more.";
        }

        if (Basis(old) != Basis(@new))
        {
            yield return $"they rest on {Basis(@new)} instead of {Basis(old)}.";
        }
    }

    private static IEnumerable<string> Cells(
        CutOffTable oldTable,
        CutOffRow old,
        CutOffTable newTable,
        CutOffRow @new
    )
    {
        for (var i = 0; i < newTable.Bands.Count; i++)
        {
            var band = newTable.Bands[i].Name;
            var at = oldTable.Bands.ToList().FindIndex(b => b.Name == band);
            var (before, after) = (at < 0 ? null : old.Cells[at], @new.Cells[i]);
            if (at >= 0 && before != after)
            {
                yield return $"at {@new.Ages}, {band} is {Cell(after)} instead of {Cell(before)}.";
            }
        }
    }

    private static string Row(CutOffTable table, CutOffRow row) =>
        string.Join(", ", table.Bands.Select((b, i) => $"{b.Name} {Cell(row.Cells[i])}"));

    private static string Cell(CutOffCell? cell) =>
        cell is null ? "none"
        : cell.From == cell.To ? cell.From.ToString()
        : $"{cell.From} to {cell.To}";

    private static string Basis(CutOffTable table)
    {
        var basis = table.Basis;
        var details = basis.Details.Count == 0 ? "" : $", {string.Join(", ", basis.Details)}";
        var provisional =
            basis.IsProvisional && basis.Kind != BasisKind.Provisional ? ", still provisional" : "";
        return $"{basis.Kind.ToString().ToLowerInvariant()} {Quote(basis.Text)}{details}{provisional}";
    }

    private static string Names(CutOffTable table) => List(table.Bands.Select(b => b.Name));

    private static string Name(CutOffTable table) => $"{table.Outcome.Name} {table.ShortForm}";

    private static string Title(CutOffTable table) =>
        $"Cut-offs of {table.Outcome.Title}{(table.ShortForm ? ", short form" : "")}";
}
