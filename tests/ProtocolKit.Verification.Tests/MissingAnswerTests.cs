using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Testing;
using ProtocolKit.Verification.Targets;
using ProtocolKit.Verification.Tests.Fhir;

namespace ProtocolKit.Verification.Tests;

/// <summary>
/// A blank is an error exactly where the reference reader of records finds it one: where its task is given. Each record
/// of the routed protocol loses one answer, and some a second one that is made wrong.
/// </summary>
public sealed class MissingAnswerTests
{
    private static readonly Protocol Routed = RoutingTests.Protocol();

    public static TheoryData<string> Names { get; } = [.. Verifier.TargetNames];

    [Theory]
    [MemberData(nameof(Names))]
    public void A_blank_is_told_where_its_task_is_given_and_nowhere_else(string name)
    {
        // A form does not let anything be entered that is no answer: what is wrong there is blank.
        var isForm = name.StartsWith("fhir", StringComparison.Ordinal);
        var trials = Trials()
            .Where(t => !isForm || t.Record.Plain.Answers.All(a => a.Word != "nonsense"))
            .Take(
                isForm ? 40
                : name == "workbook" ? 120
                : 400
            )
            .ToList();
        var options = new VerifyOptions { Programs = NpmModules.Programs };
        using var target = ScoringTargets.Make(name, Routed, options);
        try
        {
            target.Start();
        }
        catch (TargetUnavailableException e)
            when (e.IsMissing && Environment.GetEnvironmentVariable("CI") != "true")
        {
            return;
        }

        var answers = target.Run([.. trials.Select(t => t.Record)]);
        for (var i = 0; i < trials.Count; i++)
        {
            var errors = answers[i].Outputs.Where(o => o.Key.StartsWith("error", StringComparison.Ordinal));
            Assert.Equal(trials[i].Missing, MissingIn(string.Concat(errors.Select(e => e.Value + " "))));
        }
    }

    /// <summary>Both outcomes are met, or the test above says little.</summary>
    [Fact]
    public void Some_blanks_are_missed_and_some_are_not()
    {
        var trials = Trials().Take(120).ToList();
        Assert.InRange(trials.Count(t => t.Missing.Count > 0), 20, 100);
        Assert.Contains(trials, t => t.Record.Plain.Answers.Any(a => a.Word == "nonsense"));
    }

    private static IEnumerable<(TrialRecord Record, IReadOnlyList<string> Missing)> Trials()
    {
        var number = 0;
        foreach (var fields in Testing.Records.Random(Routed, 400, seed: 11))
        {
            var plain = PlainRecord.From(Routed, fields);
            number++;
            if (plain.Answers.Count < 2)
            {
                continue;
            }

            var answers = plain.Answers.ToList();
            answers.RemoveAt(number % answers.Count);
            if (number % 5 == 0)
            {
                var wrong = number * 7 % answers.Count;
                if (!IsHelp(answers[wrong].Key))
                {
                    answers[wrong] = new PlainAnswer(answers[wrong].Key, null, "nonsense");
                }
            }

            var record = plain with { Answers = answers };
            yield return (new TrialRecord(fields, record), Missing(record));
        }
    }

    /// <summary>What the reference reader misses.</summary>
    private static IReadOnlyList<string> Missing(PlainRecord record)
    {
        var cells = record
            .Answers.Where(a => !IsHelp(a.Key))
            .Select(a => (a.Key, a.Text))
            .Concat(HelpOf(record))
            .Concat(record.Observations.Select(o => ($"observations.{o.Key}", o.Text)))
            .Concat(record.History.Select(h => ($"history.{h.Key}", h.Text)))
            .Append(("protocol", Routed.Name))
            .Append(("edition", Routed.Edition))
            .Append(("case", "QC-0001"))
            .Append(("age-months", $"{record.AgeMonths}"))
            .Append(("seen", "2026-03-04"))
            .Append(("form", record.IsShortForm ? "short" : "full"))
            .ToList();
        var reading = RecordTable.ReadRow(
            [.. cells.Select(c => c.Item1)],
            [.. cells.Select(c => c.Item2)],
            "table.csv",
            2,
            Routed
        );
        var missing = reading.Problems.Where(p => p.Message.Contains("missing", StringComparison.Ordinal));
        var text = string.Concat(missing.Select(p => p.Message.TrimEnd('.') + " "));
        if (reading.Problems.Any(p => p.Message.Contains("not what came of it", StringComparison.Ordinal)))
        {
            text += "roof.rate.with-help ";
        }

        return Keys()
            .Where(k => (" " + text.Replace(',', ' ')).Contains($" {k} ", StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)
            .ToList();
    }

    /// <summary>What emitted code reads as answers about help stands in a table of records under help.</summary>
    private static IEnumerable<(string, string)> HelpOf(PlainRecord record)
    {
        var rung = record.Answers.FirstOrDefault(a => a.Key == "roof.help")?.Word;
        var aided = record.Answers.FirstOrDefault(a => a.Key == "roof.rate.with-help")?.Text;
        return rung is null or "none"
            ? []
            : [("help.roof", rung.Replace('-', ' ')), ("help.roof.rate", aided ?? "")];
    }

    private static bool IsHelp(string key) => Routed.Program.Answers.Any(a => a.Key == key && a.IsHelp);

    private static IReadOnlyList<string> MissingIn(string errors) =>
        [
            .. Keys()
                .Where(k => errors.Contains($"{k}: there is no answer.", StringComparison.Ordinal))
                .Order(StringComparer.Ordinal),
        ];

    private static IEnumerable<string> Keys() => Routed.Program.Answers.Select(a => a.Key);
}
