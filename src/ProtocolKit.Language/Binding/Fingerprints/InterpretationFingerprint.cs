using ProtocolKit.Model;
using static ProtocolKit.Language.Binding.FingerprintWriter;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// How the answers are read: ages, measures, scores, cut-offs with what they rest on, actions, re-tests. Names count and
/// printed texts don't, for names are compared and texts never; claims are proved of the rules and don't change them.
/// </summary>
internal static class InterpretationFingerprint
{
    public static void Write(Protocol protocol, Digest digest)
    {
        digest.Add(protocol.Ages.ToString());
        digest.Add(protocol.CorrectedUntil?.ToString());
        Values(protocol, digest);
        foreach (
            var table in protocol
                .CutOffs.OrderBy(t => t.Outcome.Name, StringComparer.Ordinal)
                .ThenBy(t => t.ShortForm)
        )
        {
            CutOffs(table, digest);
        }

        // Their order is their severity.
        foreach (var action in protocol.Actions)
        {
            digest.Add(
                $"{action.Name} {action.Urgency} {action.Finish} {Join(action.Conditions.Select(Rule))}"
            );
            if (action.WorseOnPurpose is { } reason)
            {
                digest.Add($"worse on purpose {reason}");
            }
        }

        foreach (var reTest in protocol.ReTests.OrderBy(r => r.Outcome.Name, StringComparer.Ordinal))
        {
            digest.Add($"{reTest.Outcome.Name} {reTest.Error} {reTest.After}");
        }
    }

    /// <summary>The formula, its further rules, and every answer it comes to rest on: a task more in a sum is another sum.</summary>
    private static void Values(Protocol protocol, Digest digest)
    {
        foreach (var lines in protocol.Program.Outcomes.OrderBy(o => o.Outcome.Name, StringComparer.Ordinal))
        {
            var outcome = lines.Outcome;
            digest.Add(
                $"{outcome.Name} {Rule(outcome.Formula)} {outcome.Step} {outcome.Unit.Dimension} {outcome.Unit.Factor}"
            );
            digest.Add(Join(outcome.Rules.Select(Rule).Order(StringComparer.Ordinal)));
            digest.Add(Join(lines.Reads.Order(StringComparer.Ordinal)));
            if (outcome.SidesAgree is { } agree)
            {
                digest.Add($"{agree} {Join(lines.Sides?.Tasks.Select(t => t.Task.Name) ?? [])}");
            }

            if (outcome.Table is { } table)
            {
                LookUp(table, digest);
            }
        }
    }

    private static void LookUp(LookupTable table, Digest digest)
    {
        digest.Add($"{table.Of} {Join(table.Ages.Select(a => a.ToString()))}");
        foreach (var row in table.Rows)
        {
            digest.Add($"{row.From} {row.To} {Join(row.Results.Select(r => r?.ToString() ?? "none"))}");
        }

        Rests(table.Basis, digest);
    }

    private static void CutOffs(CutOffTable table, Digest digest)
    {
        digest.Add($"{table.Outcome.Name} {table.ShortForm} {Join(table.Bands.Select(b => b.Name))}");
        foreach (var row in table.Rows)
        {
            digest.Add(
                $"{row.Ages} {row.AlsoWithLeftOut} {Join(row.Cells.Select(c => c is null ? "none" : $"{c.From} to {c.To}"))}"
            );
        }

        Rests(table.Basis, digest);
        if (table.WorseOnPurpose is { } reason)
        {
            digest.Add($"worse on purpose {reason}");
        }
    }

    private static void Rests(Basis basis, Digest digest)
    {
        digest.Add($"{basis.Kind} {basis.IsProvisional} {basis.Text}");
        digest.Add(Join(basis.Details));
    }
}
