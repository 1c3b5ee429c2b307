using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>What was used, for whom, by whom and how.</summary>
internal static class NoteFacts
{
    private const string NotRecorded = "not recorded";

    public static List<EvidenceFact> Of(ScoredRecord scored)
    {
        var (record, protocol) = (scored.Record, scored.Protocol);
        return
        [
            new("Case", record.Case),
            new("Seen", Say.List(record.Seen.Select(Say.Day))),
            new("Age that day", RaterSentences.AgeOf(record)),
            new(
                "Screen",
                $"{protocol.Title}, edition {protocol.Edition}, {(record.IsShortForm ? "short" : "full")} form"
            ),
            new("Fingerprints", Fingerprints(scored)),
            new("Language", Language(scored)),
            new("Rated by", record.Rater is { } rater ? RaterSentences.Of(rater) : NotRecorded),
            new("Consents", Consents(scored)),
            new("Conditions", Conditions(scored)),
        ];
    }

    private static string Fingerprints(ScoredRecord scored)
    {
        var now = scored.Protocol.Fingerprints;
        var text =
            $"form {now.Form}, administration {now.Administration}, interpretation {now.Interpretation}";
        return scored.Record.Fingerprints is { } own && own.Interpretation != now.Interpretation
            ? $"{text}; the record was made under interpretation {own.Interpretation}"
            : text;
    }

    /// <summary>The form's own language, and what the caregiver said of languages at home where it was asked.</summary>
    private static string Language(ScoredRecord scored)
    {
        var home = scored
            .Protocol.History.Where(q => q.Name.Contains("language", StringComparison.Ordinal))
            .Select(q => scored.Record.History.GetValueOrDefault(q.Name))
            .FirstOrDefault(text => !string.IsNullOrWhiteSpace(text));
        var form = $"form in “{scored.Protocol.Language}”";
        return home is null
            ? $"{form}; languages at home {NotRecorded}"
            : $"{form}; at home: {home.ReplaceLineEndings(" ")}";
    }

    private static string Consents(ScoredRecord scored)
    {
        var given = scored.Record.Consents;
        return given.Count == 0
            ? NotRecorded
            : string.Join(", ", given.Select(c => $"{Names.ToWords(c.Key)} {(c.Value ? "yes" : "no")}"));
    }

    /// <summary>Live or recorded, one sitting or several, and whether something happened.</summary>
    private static string Conditions(ScoredRecord scored)
    {
        var record = scored.Record;
        var rated = record.Rater?.FromRecording switch
        {
            true => "rated from a recording",
            false => "rated live",
            _ => "live or recorded: not said",
        };
        var parts = record.Seen.Count == 1 ? "one sitting" : $"{Say.Count(record.Seen.Count)} sittings";
        var events =
            record.Events.Count == 0 ? "no events" : Say.Count(record.Events.Count, "event", "events");
        return string.Create(CultureInfo.InvariantCulture, $"{rated}; {parts}; {events}");
    }
}
