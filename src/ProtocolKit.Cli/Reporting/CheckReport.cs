using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Workspace;

namespace ProtocolKit.Cli.Reporting;

/// <summary>What <c>check</c> prints for one file: findings in the text, then one line that sums up.</summary>
internal static class CheckReport
{
    public static void Print(ProtocolFile file, Terminal terminal)
    {
        Findings(file, terminal);
        terminal.Say(Summary(file));
        if (file.Compilation.Protocol is { } protocol)
        {
            terminal.Say(Contents(protocol));
            if (file.Proof is { } proof)
            {
                terminal.Say(ProofSummary.Of(protocol, proof));
            }
        }
    }

    /// <summary>Only the findings, for verbs that go on or stop because of them.</summary>
    public static void Findings(ProtocolFile file, Terminal terminal)
    {
        foreach (var diagnostic in file.Compilation.Diagnostics)
        {
            terminal.Say(
                terminal.HasColours
                    ? DiagnosticText.RenderInColour(diagnostic)
                    : DiagnosticText.Render(diagnostic)
            );
        }

        if (file.Compilation.Omitted > 0)
        {
            terminal.Say($"And {file.Compilation.Omitted} more.\n");
        }
    }

    private static string Summary(ProtocolFile file)
    {
        var counts = new[] { Severity.Error, Severity.Warning, Severity.Note }
            .Select(s => (Severity: s, Count: file.Compilation.Diagnostics.Count(d => d.Severity == s)))
            .Where(c => c.Count > 0)
            .Select(c => Plural(c.Count, DiagnosticText.Word(c.Severity)))
            .ToList();
        var found = counts.Count == 0 ? "nothing wrong" : string.Join(", ", counts);
        return $"{file.Source.Name}: {found}.";
    }

    private static string Contents(Protocol protocol)
    {
        var slots = protocol.Program.Answers.Count;
        return $"{protocol.Title}, edition {protocol.Edition}, ages {protocol.Ages}: {Plural(protocol.Tasks.Count, "task")}, "
            + $"{Plural(slots, "answer")}, {Plural(protocol.Outcomes.Count, "measure or score", "measures and scores")}, "
            + $"{Plural(protocol.CutOffs.Count, "cut-off table")}, {Plural(protocol.Actions.Count, "action")}.\n"
            + $"Form {protocol.Fingerprints.Form}, administration {protocol.Fingerprints.Administration}, interpretation {protocol.Fingerprints.Interpretation}.";
    }

    public static string Plural(int count, string one, string? many = null) =>
        count == 1 ? $"1 {one}" : $"{count} {many ?? one + "s"}";
}
