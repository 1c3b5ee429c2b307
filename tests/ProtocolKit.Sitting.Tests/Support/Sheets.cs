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
        var help = protocol
            .Program.Answers.Where(a => a.IsHelp)
            .ToDictionary(a => a.Key, StringComparer.Ordinal);
        Level(
            text,
            "answers",
            plain.Answers.Where(a => !help.ContainsKey(a.Key)).Select(a => (a.Key, a.Text))
        );
        Level(text, "help", Help(plain.Answers.Where(a => help.ContainsKey(a.Key)), help));
        Level(text, "observations", plain.Observations.Select(o => (o.Key, o.Text)));
        return text.ToString();
    }

    /// <summary>Which help was given, by the words of its rung, and what came of it; nothing where there was none.</summary>
    private static IEnumerable<(string Key, string Value)> Help(
        IEnumerable<PlainAnswer> answers,
        Dictionary<string, AnswerSlot> slots
    )
    {
        foreach (var part in answers.GroupBy(a => PartOf(slots[a.Key])))
        {
            var slot = slots[part.First().Key];
            var rung = slot.Response.Options.FirstOrDefault(o =>
                o.Name == part.First().Word && o.Name != HelpLadder.None
            );
            if (slot.Trial > 1 || rung is null || part.Skip(1).Any(a => a.Number is null))
            {
                continue;
            }

            yield return (part.Key, rung.Text);
            foreach (var came in part.Skip(1))
            {
                var side = slot.Variant.Name.Length == 0 ? "" : "." + slot.Variant.Name;
                yield return ($"{part.Key.Split('.')[0]}.{slots[came.Key].Response.Name}{side}", came.Text);
            }
        }
    }

    private static string PartOf(AnswerSlot slot)
    {
        var task = slot.Task.Name[..^(HelpLadder.With.Length + 1)];
        return slot.Variant.Name.Length == 0 ? task : $"{task}.{slot.Variant.Name}";
    }

    private static void Level(StringBuilder text, string name, IEnumerable<(string Key, string Value)> lines)
    {
        var all = lines.ToList();
        text.Append(all.Count == 0 ? "" : name + ":\n");
        all.ForEach(l => text.Append(CultureInfo.InvariantCulture, $"  {l.Key}: {l.Value}\n"));
    }
}
