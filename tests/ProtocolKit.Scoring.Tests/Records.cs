using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>Texts of records of the tiny protocol.</summary>
internal static class Records
{
    public const string Good = """
        protocol: tiny-screen
        edition: 1.0
        fingerprints:
          form: 00000000000000aa
          administration: 00000000000000bb
          interpretation: 00000000000000cc
        case: QC-0417
        age-months: 51
        parts:
          - seen: 2026-03-04
        form: full
        rater: SLP-02
        answers:
          tip-nose.rate.trial-1: 1
          tip-nose.rate.trial-2: 2
          tip-chin.rate: 2
          tip-corner.rate.right: 2
          tip-corner.rate.left: 1
          pa-run.syllables.trial-1: 20
          pa-run.run.trial-1: 6.0
          pa-run.syllables.trial-2: 22
          pa-run.run.trial-2: 5.8
          pa-run.syllables.trial-3: 21
          pa-run.run.trial-3: 5.9
          first-pair.choice: as-shown
          nods.nodded: yes

        """;

    public static RecordReading Read(string text, RecordOptions? options = null) =>
        RecordReader.Read(text, "record.yaml", Tiny.Protocol, options);

    /// <summary>The good record with one text in it changed.</summary>
    public static string With(string old, string changed)
    {
        Assert.Contains(old, Good, StringComparison.Ordinal);
        return Good.Replace(old, changed, StringComparison.Ordinal);
    }

    public static SittingRecord Sitting(string text)
    {
        var reading = Read(text);
        Assert.True(reading.Record is not null, string.Join("\n", reading.Problems));
        return reading.Record;
    }

    public static RecordProblem Only(string text)
    {
        var reading = Read(text);
        Assert.Null(reading.Record);
        return Assert.Single(reading.Problems);
    }
}
