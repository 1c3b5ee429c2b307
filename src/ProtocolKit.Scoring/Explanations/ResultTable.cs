using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>
/// Results as CSV (RFC 4180, but <c>\n</c> line ends), one row a record. Columns: <c>case</c>, <c>age-months</c>, <c>seen</c> (first day), <c>form</c>; for
/// each value <c>NAME</c> (when exact), <c>NAME.low</c>, <c>NAME.high</c>, <c>NAME.state</c> (known, not-applicable or an untried code) and, where it has
/// cut-offs, <c>NAME.band</c> (a band's name, undecided, not-applicable, blocked or no-band); for each action its
/// decision; <c>headline</c>, <c>override</c>, <c>remarks</c> (how many).
/// </summary>
public static class ResultTable
{
    public static string Header(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var columns = new List<string> { "case", "age-months", "seen", "form" };
        foreach (var outcome in protocol.Outcomes)
        {
            columns.AddRange([
                outcome.Name,
                $"{outcome.Name}.low",
                $"{outcome.Name}.high",
                $"{outcome.Name}.state",
            ]);
            if (HasBand(protocol, outcome))
            {
                columns.Add($"{outcome.Name}.band");
            }
        }

        columns.AddRange(protocol.Actions.Select(a => a.Name));
        columns.AddRange(["headline", "override", "remarks"]);
        return Line(columns);
    }

    public static string Row(ScoredRecord scored)
    {
        ArgumentNullException.ThrowIfNull(scored);
        var record = scored.Record;
        var cells = new List<string>
        {
            record.Case,
            record.Age.Months.ToString(CultureInfo.InvariantCulture),
            record.Seen.Count == 0 ? "" : record.Seen[0].ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            record.IsShortForm ? RecordKeys.Short : RecordKeys.Full,
        };
        foreach (var outcome in scored.Protocol.Outcomes)
        {
            var result = scored.Outcomes.First(o => o.Outcome.Name == outcome.Name);
            var isKnown = result.State == State.Known;
            cells.Add(result.IsExact ? result.Low.ToString() : "");
            cells.Add(isKnown ? result.Low.ToString() : "");
            cells.Add(isKnown ? result.High.ToString() : "");
            cells.Add(StateWords.Of(result.State));
            if (HasBand(scored.Protocol, outcome))
            {
                var band = OutcomeSentences.BandOf(scored, outcome);
                cells.Add(band?.Band?.Name ?? StateWords.Of(band?.State ?? BandState.NotApplicable));
            }
        }

        cells.AddRange(
            scored.Protocol.Actions.Select(a =>
                StateWords.Of(scored.Actions.First(r => r.Action.Name == a.Name).Decision)
            )
        );
        cells.Add(scored.Headline?.Name ?? "");
        cells.Add(record.Override?.Action ?? "");
        cells.Add(scored.Remarks.Count.ToString(CultureInfo.InvariantCulture));
        return Line(cells);
    }

    private static bool HasBand(Protocol protocol, Outcome outcome) =>
        protocol.CutOffs.Any(t => t.Outcome.Name == outcome.Name);

    private static string Line(IEnumerable<string> cells) => string.Join(',', cells.Select(Cell)) + "\n";

    private static string Cell(string text)
    {
        if (text.AsSpan().IndexOfAny([',', '"', '\n', '\r']) < 0)
        {
            return text;
        }

        return new StringBuilder("\"")
            .Append(text.Replace("\"", "\"\"", StringComparison.Ordinal))
            .Append('"')
            .ToString();
    }
}
