using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>What stands at the head of emitted code: which protocol, which edition, and the cautions.</summary>
internal static class CodeHeader
{
    public static IEnumerable<string> Identity(Protocol protocol)
    {
        var prints = protocol.Fingerprints;
        yield return $"Scoring of {protocol.Name}, edition {protocol.Edition}, ages {protocol.Ages}.";
        yield return $"Fingerprints: form {prints.Form}, administration {prints.Administration}, "
            + $"interpretation {prints.Interpretation}.";
        yield return "Made by ProtocolKit from the protocol's text. Change the text and build again; "
            + "changes made here are lost and unproved.";
    }

    public static IEnumerable<string> Cautions(Protocol protocol)
    {
        yield return "A screen makes no diagnosis: it can miss a child who needs help and alarm about one who "
            + "does not.";
        yield return "Local rules and the judgement of a licensed practitioner come first.";
        foreach (
            var sameBasis in protocol.CutOffs.Where(t => t.Basis.IsProvisional).GroupBy(t => t.Basis.Text)
        )
        {
            var tables = sameBasis.Select(t => t.Outcome.Name + (t.ShortForm ? " in the short form" : ""));
            yield return $"Provisional cut-offs ({sameBasis.Key}): {string.Join(", ", tables)}.";
        }
    }
}
