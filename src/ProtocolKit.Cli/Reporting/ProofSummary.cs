using System.Globalization;
using System.Numerics;
using System.Text;
using ProtocolKit.Model;
using ProtocolKit.Workspace;

namespace ProtocolKit.Cli.Reporting;

/// <summary>One screen on what holds for every record: how many there are, what is proved, what is not and why.</summary>
internal static class ProofSummary
{
    private const int MostLines = 16;

    public static string Of(Protocol protocol, ProofReport report)
    {
        var text = new StringBuilder("\nFor every record a child could produce:\n");
        if (report.Records is { } records)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"  A child of {protocol.Ages.From} can come away with {LargeNumber.Words(records.Complete)} different complete records; with untried answers, {LargeNumber.Words(records.All)}.\n"
            );
        }

        foreach (var topic in report.Proved.GroupBy(p => p.Topic).OrderBy(t => t.Key))
        {
            Append(text, protocol, topic.Key, [.. topic.Select(t => t.Text)]);
        }

        foreach (var waived in report.Waived)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"  Worse on purpose: {waived.Text} “{waived.Reason}”\n"
            );
        }

        foreach (var open in report.NotProved.Take(MostLines))
        {
            text.Append(CultureInfo.InvariantCulture, $"  Not proved: {open}.\n");
        }

        if (report.NotProved.Count > MostLines)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"  And {report.NotProved.Count - MostLines} more not proved.\n"
            );
        }

        return text.ToString().TrimEnd('\n');
    }

    private static void Append(StringBuilder text, Protocol protocol, ProofTopic topic, List<string> proved)
    {
        var counted = topic switch
        {
            ProofTopic.Bands =>
                $"{proved.Count} of {protocol.CutOffs.Count} cut-off tables: every value a child can reach lies in one band, and every band is reached.",
            ProofTopic.Ranges => $"{proved.Count} claimed ranges hold, and their ends are reached.",
            ProofTopic.Monotony when proved.Count > 1 =>
                $"Better answers never give a worse result: {proved.Count} of {protocol.CutOffs.Count + Math.Min(1, protocol.Actions.Count)} tables and actions.",
            _ => null,
        };
        foreach (var line in counted is null ? proved : [counted])
        {
            text.Append("  Proved: ").Append(line).Append('\n');
        }
    }
}
