using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says who rated and how old the child was, in few words.</summary>
internal static class RaterSentences
{
    /// <summary><c>R2 (student, from a recording, blind)</c>.</summary>
    public static string Of(Rater rater)
    {
        var details = new[]
        {
            rater.Role?.ReplaceLineEndings(" "),
            rater.TrainedUntil is { } day ? $"trained until {Say.Day(day)}" : null,
            rater.FromRecording is { } recorded ? (recorded ? "from a recording" : "live") : null,
            rater.Blind is { } blind ? (blind ? "blind" : "not blind") : null,
        }.OfType<string>();
        var said = string.Join(", ", details);
        return said.Length == 0 ? rater.Code : $"{rater.Code} ({said})";
    }

    /// <summary><c>2;4 corrected (2;5 since birth, born at 34 weeks)</c>.</summary>
    public static string AgeOf(SittingRecord record) =>
        record.SinceBirth is { } since
            ? string.Create(
                CultureInfo.InvariantCulture,
                $"{record.Age} corrected ({since} since birth, born at {record.GestationWeeks} weeks)"
            )
            : record.Age.ToString();

    /// <summary>Where the record is one that two raters agreed on.</summary>
    public static IEnumerable<string> Agreed(SittingRecord record) =>
        record.AgreedFrom.Count == 0
            ? []
            :
            [
                $"Agreed by {Say.List(record.AgreedFrom.Select(o => o.Rater))} from their two records, which stay as they are "
                    + $"({Say.List(record.AgreedFrom.Select(o => o.Digest))}).",
            ];

    /// <summary>What later parts of the sitting finished.</summary>
    public static IEnumerable<string> Finished(SittingRecord record) =>
        record
            .Later.Where(l => l.Under == RecordKeys.Answers && l.Part <= record.Seen.Count)
            .GroupBy(l => l.Part)
            .OrderBy(g => g.Key)
            .Select(g =>
                $"Finished on {Say.Day(record.Seen[g.Key - 1])}: {Say.List(g.Select(l => l.Key).Order(StringComparer.Ordinal))}."
            );
}
