using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// What stands in a record's lines: not what counts now, but what was written first, with the corrections beside it; and
/// each line in the part of the sitting that brought it.
/// </summary>
internal sealed class WrittenEntries(Protocol protocol, SittingRecord record)
{
    private readonly Dictionary<(string Under, string Key), LaterEntry> _later = record.Later.ToDictionary(
        l => (l.Under, l.Key)
    );

    /// <summary>The lines of the first part.</summary>
    public IEnumerable<(string Key, string Value)> First(string under)
    {
        foreach (var (key, value) in All(under))
        {
            if (!_later.TryGetValue((under, key), out var later))
            {
                yield return (key, value);
            }
            else if (later.Before is { } reason)
            {
                yield return (key, reason);
            }
        }
    }

    /// <summary>What a later part brought; nothing for the first.</summary>
    public IEnumerable<(string Key, string Value)> Of(int part, string under) =>
        All(under).Where(e => _later.TryGetValue((under, e.Key), out var later) && later.Part == part);

    /// <summary>As written first; months also where the day of birth was corrected.</summary>
    public string AgeMonths()
    {
        var now = (record.SinceBirth ?? record.Age).Months.ToString(CultureInfo.InvariantCulture);
        return Corrections().FirstOrDefault(c => c.Key == RecordKeys.AgeMonths)?.Old ?? now;
    }

    /// <summary>No birth date is written, so a correction of one is said in months, and falls away where they are the same.</summary>
    public IEnumerable<Correction> Corrections()
    {
        foreach (var correction in record.Corrections)
        {
            if (correction.Key != RecordKeys.Born)
            {
                yield return correction;
            }
            else if ((Months(correction.Old), Months(correction.New)) is ({ } old, { } now) && old != now)
            {
                yield return correction with
                {
                    Key = RecordKeys.AgeMonths,
                    Old = old,
                    New = now,
                };
            }
        }
    }

    private string? Months(string born) =>
        DateOnly.TryParseExact(
            born,
            "yyyy-MM-dd",
            CultureInfo.InvariantCulture,
            DateTimeStyles.None,
            out var day
        )
        && record.Seen.Count > 0
            ? Age.Between(day, record.Seen[0])?.Months.ToString(CultureInfo.InvariantCulture)
            : null;

    private IEnumerable<(string Key, string Value)> All(string under) =>
        under switch
        {
            RecordKeys.Answers => Uncorrected(Answers(), protocol.Program.Answers.Select(a => a.Key)),
            RecordKeys.Observations => Uncorrected(
                Observations(),
                protocol.Program.Observations.Select(o => o.Key)
            ),
            RecordKeys.Help => record
                .Help.Concat(record.Aided)
                .Select(h => (h.Key, RecordWriter.Quote(h.Value))),
            _ => record.Notes.Select(n => (n.Key, RecordWriter.Quote(n.Value))),
        };

    /// <summary>Each line as it stood before its first correction, in the protocol's order.</summary>
    private IEnumerable<(string Key, string Value)> Uncorrected(
        IEnumerable<(string Key, string Value)> now,
        IEnumerable<string> order
    )
    {
        var first = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var correction in record.Corrections)
        {
            first.TryAdd(correction.Key, correction.Old);
        }

        var values = now.ToDictionary(e => e.Key, e => e.Value, StringComparer.Ordinal);
        foreach (var key in order)
        {
            var value = first.GetValueOrDefault(key) ?? values.GetValueOrDefault(key);
            if (value is not null && value != RecordKeys.Absent)
            {
                yield return (key, value);
            }
        }
    }

    private IEnumerable<(string Key, string Value)> Answers() =>
        protocol
            .Program.Answers.Where(slot => !slot.IsHelp)
            .Select(slot => (slot, State: (State)record.Fields[slot.StateField]))
            .Where(s => s.State != State.NotApplicable)
            .Select(s =>
                (s.slot.Key, AnswerValue.Write(s.slot.Response, s.State, record.Fields[s.slot.ValueField]))
            );

    private IEnumerable<(string Key, string Value)> Observations() =>
        protocol
            .Program.Observations.Where(slot => record.Fields[slot.Field] > 0)
            .Select(slot => (slot.Key, record.Fields[slot.Field] == 2 ? RecordKeys.Seen : RecordKeys.Looked));
}
