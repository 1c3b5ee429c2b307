using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Verification;

/// <summary>A report of verify as plain text: the table of agreement, then what differs.</summary>
public static class VerifyText
{
    public static string Write(VerifyReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var text = new StringBuilder();
        var ofAll = report.AtEdges < report.AllEdges ? $" of {Count(report.AllEdges)}" : "";
        var random = report.Records - report.AtEdges - report.Sampled;
        var sampled = report.Sampled == 0 ? "" : $"{Count(report.Sampled)} exactly sampled, ";
        text.Append(
            CultureInfo.InvariantCulture,
            $"{Count(report.Records)} records: {Count(report.AtEdges)}{ofAll} at edges, {sampled}{Count(random)} random (seed {report.Seed}).\n\n"
        );
        var width = report.Targets.Select(t => t.Target.Length).Append("target".Length).Max();
        text.Append(CultureInfo.InvariantCulture, $"{"target".PadRight(width)}  records      time  result\n");
        foreach (var target in report.Targets)
        {
            text.Append(
                CultureInfo.InvariantCulture,
                $"{target.Target.PadRight(width)}  {Count(target.Records), 7}  {Time(target), 8}  {Words(target)}\n"
            );
        }

        foreach (var target in report.Targets.Where(t => t.Difference is not null))
        {
            Append(text, target.Target, target.Difference!);
        }

        return text.ToString();
    }

    private static void Append(StringBuilder text, string target, Difference difference)
    {
        text.Append(
            CultureInfo.InvariantCulture,
            $"\n{target} differs at {difference.What}: it says {difference.Actual}, the reference {difference.Expected}.\n"
        );
        var form = difference.Record.IsShortForm ? "short form" : "full form";
        var age = new Age((int)difference.Record.AgeMonths);
        text.Append(
            CultureInfo.InvariantCulture,
            $"The smallest record found that shows it: age {age}, {form}, "
        );
        if (difference.Answers.Count == 0)
        {
            text.Append("flawless in every answer.\n");
            return;
        }

        text.Append("flawless but for\n");
        foreach (var answer in difference.Answers)
        {
            text.Append(CultureInfo.InvariantCulture, $"  {answer}\n");
        }
    }

    private static string Words(TargetReport target) =>
        target.Agreement switch
        {
            Agreement.Agreed => "agreed",
            Agreement.Differs => "differs",
            _ => "not run: " + target.Reason,
        };

    private static string Time(TargetReport target) =>
        target.Elapsed == TimeSpan.Zero
            ? "-"
            : target.Elapsed.TotalSeconds.ToString("0.00", CultureInfo.InvariantCulture) + " s";

    private static string Count(int count) => count.ToString("N0", CultureInfo.InvariantCulture);
}
