using System.Globalization;
using System.Text;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Testing;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>Records as files, and files as records.</summary>
internal static class Sheets
{
    public static SittingRecord Read(string text, Protocol protocol)
    {
        var reading = RecordReader.Read(text, "record", protocol);
        Assert.Empty(reading.Problems.Select(p => p.ToString()));
        return reading.Record!;
    }

    public static string OfLibrary(string name) =>
        File.ReadAllText(Checkout.PathOf("library", "quillmere", "records", name));

    /// <summary>A filled sheet as a record without anything beside its answers.</summary>
    public static string Write(Protocol protocol, IReadOnlyList<long> fields, int number)
    {
        var plain = PlainRecord.From(protocol, fields);
        var text = new StringBuilder();
        text.Append(
            CultureInfo.InvariantCulture,
            $"protocol: {protocol.Name}\nedition: \"{protocol.Edition}\"\ncase: R-{number}\n"
        );
        text.Append(
            CultureInfo.InvariantCulture,
            $"age-months: {plain.AgeMonths}\nparts:\n- seen: 2026-03-04\n"
        );
        text.Append(CultureInfo.InvariantCulture, $"form: {(plain.IsShortForm ? "short" : "full")}\n");
        Level(text, "history", plain.History.Select(h => (h.Key, h.Text)));
        Level(text, "answers", plain.Answers.Select(a => (a.Key, a.Text)));
        Level(text, "observations", plain.Observations.Select(o => (o.Key, o.Text)));
        return text.ToString();
    }

    private static void Level(StringBuilder text, string name, IEnumerable<(string Key, string Value)> lines)
    {
        var all = lines.ToList();
        text.Append(all.Count == 0 ? "" : name + ":\n");
        all.ForEach(l => text.Append(CultureInfo.InvariantCulture, $"  {l.Key}: {l.Value}\n"));
    }
}
