using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Writes a record as YAML that <see cref="RecordReader"/> reads back to the same fields, as long as the
/// fields are those of a record that can be filled in (no trial beyond the needed ones). No birth date is
/// written, only the age in months.
/// </summary>
public static class RecordWriter
{
    public static string Write(Protocol protocol, SittingRecord record)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(record);
        var text = new StringBuilder();
        var kept = new WrittenEntries(protocol, record);
        Head(text, protocol, record, kept);
        Level(
            text,
            RecordKeys.Consents,
            record.Consents.Select(c => (c.Key, c.Value ? RecordKeys.Yes : RecordKeys.No))
        );
        Level(text, RecordKeys.History, HistoryOf(protocol, record).Select(h => (h.Key, Quote(h.Value))));
        Level(text, RecordKeys.Answers, kept.First(RecordKeys.Answers));
        Level(text, RecordKeys.Help, kept.First(RecordKeys.Help));
        Level(text, RecordKeys.Observations, kept.First(RecordKeys.Observations));
        Items(text, RecordKeys.Events, record.Events.Select(OfEvent));
        Level(text, RecordKeys.Notes, kept.First(RecordKeys.Notes));
        Level(
            text,
            RecordKeys.TaskSeconds,
            record.TaskSeconds.Select(s => (s.Key, s.Value.ToString(CultureInfo.InvariantCulture)))
        );
        if (record.Override is { } decision)
        {
            Items(
                text,
                RecordKeys.Overrides,
                [
                    [
                        ("action", Quote(decision.Action)),
                        ("reason", Quote(decision.Reason)),
                        ("role", Quote(decision.Role)),
                    ],
                ]
            );
        }

        Items(text, RecordKeys.Corrections, kept.Corrections().Select(OfCorrection));
        return text.ToString();
    }

    private static void Head(StringBuilder text, Protocol protocol, SittingRecord record, WrittenEntries kept)
    {
        var prints = record.Fingerprints ?? protocol.Fingerprints;
        Line(text, RecordKeys.Protocol, protocol.Name);
        Line(text, RecordKeys.Edition, Quote(protocol.Edition));
        Level(
            text,
            RecordKeys.Fingerprints,
            [
                ("form", Quote(prints.Form)),
                ("administration", Quote(prints.Administration)),
                ("interpretation", Quote(prints.Interpretation)),
            ]
        );
        Line(text, RecordKeys.Case, Quote(record.Case));
        Line(text, RecordKeys.AgeMonths, kept.AgeMonths());
        if (record.GestationWeeks is { } weeks)
        {
            Line(text, RecordKeys.GestationWeeks, weeks.ToString(CultureInfo.InvariantCulture));
        }

        if (record.SinceBirth is not null)
        {
            Line(
                text,
                RecordKeys.CorrectedAgeMonths,
                record.Age.Months.ToString(CultureInfo.InvariantCulture)
            );
        }

        Parts(text, record, kept);
        Line(text, RecordKeys.Form, record.IsShortForm ? RecordKeys.Short : RecordKeys.Full);
        if (record.Rater is { } rater)
        {
            Who(text, rater);
        }

        Items(
            text,
            RecordKeys.AgreedFrom,
            record.AgreedFrom.Select(o => Present((RecordKeys.Rater, o.Rater), (RecordKeys.Digest, o.Digest)))
        );
    }

    private static void Parts(StringBuilder text, SittingRecord record, WrittenEntries kept)
    {
        text.Append(RecordKeys.Parts).Append(":\n");
        for (var part = 1; part <= record.Seen.Count; part++)
        {
            text.Append("  - ");
            Line(text, RecordKeys.Seen, Day(record.Seen[part - 1]));
            foreach (var under in RecordKeys.Finished)
            {
                var isFirst = true;
                foreach (var (key, value) in kept.Of(part, under))
                {
                    text.Append(isFirst ? $"    {under}:\n" : "").Append("      ");
                    Line(text, key, value);
                    isFirst = false;
                }
            }
        }
    }

    /// <summary>What is told, and yes or no where only the field knows whether tasks were closed.</summary>
    private static IEnumerable<(string Key, string Value)> HistoryOf(
        Protocol protocol,
        SittingRecord record
    ) =>
        record
            .History.Select(h => (h.Key, h.Value))
            .Concat(
                protocol
                    .Program.History.Where(h => !record.History.ContainsKey(h.Key))
                    .Select(h => (h.Key, record.Fields[h.Field] == 1 ? RecordKeys.Yes : RecordKeys.No))
            );

    private static void Who(StringBuilder text, Rater rater)
    {
        if (rater == new Rater(rater.Code))
        {
            Line(text, RecordKeys.Rater, Quote(rater.Code));
            return;
        }

        Level(
            text,
            RecordKeys.Rater,
            Present(
                (RecordKeys.Code, rater.Code),
                (RecordKeys.Role, rater.Role),
                (RecordKeys.TrainedUntil, rater.TrainedUntil is { } day ? Day(day) : null),
                (
                    RecordKeys.Rated,
                    rater.FromRecording is { } recorded
                        ? (recorded ? RecordKeys.Recorded : RecordKeys.Live)
                        : null
                ),
                (RecordKeys.Blind, rater.Blind is { } blind ? (blind ? RecordKeys.Yes : RecordKeys.No) : null)
            )
        );
    }

    private static IEnumerable<(string, string)> OfEvent(SittingEvent one) =>
        Present(
            ("what", one.What),
            ("task", one.Task),
            (RecordKeys.GivenBefore, one.GivenBefore),
            ("touched", one.Touched),
            ("recovered", one.Recovered),
            ("done", one.Done)
        );

    private static IEnumerable<(string, string)> OfCorrection(Correction one) =>
        Present(
            ("who", one.Who),
            ("when", Day(one.When)),
            ("why", one.Why),
            ("old", one.Old),
            ("new", one.New),
            ("key", one.Key)
        );

    private static IEnumerable<(string, string)> Present(params (string Key, string? Value)[] entries) =>
        entries.Where(e => e.Value is not null).Select(e => (e.Key, Quote(e.Value!)));

    private static string Day(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static void Line(StringBuilder text, string key, string value) =>
        text.Append(key).Append(": ").Append(value).Append('\n');

    private static void Level(StringBuilder text, string key, IEnumerable<(string Key, string Value)> entries)
    {
        var isFirst = true;
        foreach (var (name, value) in entries)
        {
            text.Append(isFirst ? key + ":\n" : "").Append("  ");
            Line(text, name, value);
            isFirst = false;
        }
    }

    private static void Items(
        StringBuilder text,
        string key,
        IEnumerable<IEnumerable<(string Key, string Value)>> items
    )
    {
        var isFirst = true;
        foreach (var item in items)
        {
            text.Append(isFirst ? key + ":\n" : "");
            isFirst = false;
            var lead = "  - ";
            foreach (var (name, value) in item)
            {
                text.Append(lead);
                Line(text, name, value);
                lead = "    ";
            }
        }
    }

    /// <summary>A double-quoted text of YAML, which is a string of JSON as well.</summary>
    internal static string Quote(string value)
    {
        var text = new StringBuilder("\"");
        foreach (var c in value)
        {
            _ = c switch
            {
                '"' or '\\' => text.Append('\\').Append(c),
                '\n' => text.Append("\\n"),
                '\r' => text.Append("\\r"),
                '\t' => text.Append("\\t"),
                _ when char.IsControl(c) || c is '\u2028' or '\u2029' or '\uFEFF' => text.Append(
                    CultureInfo.InvariantCulture,
                    $"\\u{(int)c:x4}"
                ),
                _ => text.Append(c),
            };
        }

        return text.Append('"').ToString();
    }
}
