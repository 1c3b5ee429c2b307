using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Cut-offs and tables found in one language are a first guess in another until it is shown that they hold.
/// </summary>
internal static class ProvisionalCutOffs
{
    public static Protocol Of(Protocol protocol)
    {
        var program = protocol.Program;
        var outcomes = program.Outcomes.ToDictionary(
            o => o.Outcome.Name,
            o => o.Outcome with { Table = Guess(o.Outcome.Table) },
            StringComparer.Ordinal
        );
        var tables = protocol.CutOffs.ToDictionary(
            Key,
            t => t with { Outcome = outcomes[t.Outcome.Name], Basis = Guess(t.Basis) }
        );
        return protocol with
        {
            Outcomes = [.. protocol.Outcomes.Select(o => outcomes[o.Name])],
            CutOffs = [.. protocol.CutOffs.Select(t => tables[Key(t)])],
            ReTests = [.. protocol.ReTests.Select(r => r with { Outcome = outcomes[r.Outcome.Name] })],
            Program = program with
            {
                Outcomes = [.. program.Outcomes.Select(o => o with { Outcome = outcomes[o.Outcome.Name] })],
                Bands = [.. program.Bands.Select(b => b with { Table = tables[Key(b.Table)] })],
            },
        };
    }

    private static Basis Guess(Basis basis) => basis with { IsProvisional = true };

    private static LookupTable? Guess(LookupTable? table) =>
        table is null ? null : table with { Basis = Guess(table.Basis) };

    private static (string, bool) Key(CutOffTable table) => (table.Outcome.Name, table.ShortForm);
}
