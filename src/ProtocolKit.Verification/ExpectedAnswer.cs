using System.Globalization;
using System.Runtime.CompilerServices;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Verification;

/// <summary>What Scoring says of a record: every line, and every output in the words of emitted code.</summary>
internal sealed record ExpectedAnswer(IReadOnlyList<long> Lines, IReadOnlyList<ExpectedOutput> Outputs)
{
    private static readonly ConditionalWeakTable<
        ScoringProgram,
        Dictionary<string, IReadOnlyList<KeptLines>>
    > Reads = [];

    public static ExpectedAnswer Of(Protocol protocol, long[] fields)
    {
        var scored = Scorer.Score(
            protocol,
            new SittingRecord
            {
                Case = "",
                Age = new Age((int)fields[protocol.Program.AgeField]),
                Seen = [],
                IsShortForm = fields[protocol.Program.FormField] == 1,
                Fields = fields,
            }
        );
        return new ExpectedAnswer(scored.Lines, [.. OutputsOf(scored)]);
    }

    private static IEnumerable<ExpectedOutput> OutputsOf(ScoredRecord scored) =>
        scored
            .Outcomes.SelectMany(Score)
            .Concat(scored.Bands.Where(b => b.Table.ShortForm == scored.Record.IsShortForm).Select(Band))
            .Concat(scored.Actions.Select(Action))
            .Append(ExpectedOutput.Word("headline", scored.Headline?.Name ?? "none"))
            .Concat(Reasons(scored));

    private static IEnumerable<ExpectedOutput> Score(OutcomeResult result)
    {
        var name = $"score {result.Outcome.Name} ";
        var isKnown = result.State == State.Known;
        yield return ExpectedOutput.Word(name + "state", result.State.ToWords());
        yield return ExpectedOutput.Of(name + "low", isKnown ? result.Low : null);
        yield return ExpectedOutput.Of(name + "high", isKnown ? result.High : null);
        yield return ExpectedOutput.Word(name + "unit", result.Outcome.Unit.Symbol);
        yield return ExpectedOutput.Of(name + "step", result.Outcome.Step);
    }

    private static ExpectedOutput Band(BandResult result) =>
        ExpectedOutput.Word($"band {result.Table.Outcome.Name}", result.Word);

    private static ExpectedOutput Action(ActionResult result) =>
        ExpectedOutput.Word($"action {result.Action.Name}", result.Word);

    private static IEnumerable<ExpectedOutput> Reasons(ScoredRecord scored)
    {
        var program = scored.Protocol.Program;
        return program
            .Outcomes.SelectMany(o => ReadsOf(program, o).Select(k => (o.Outcome.Name, Kept: k)))
            .Select(r => (r.Name, r.Kept.Key, State: (State)scored.Lines[r.Kept.StateLine]))
            .Where(r => r.State.IsUntried())
            .Select(
                (r, i) =>
                    ExpectedOutput.Word(
                        string.Create(CultureInfo.InvariantCulture, $"reason {i + 1}"),
                        $"{r.Name}: {r.Key} {r.State.ToWords()}"
                    )
            );
    }

    /// <summary>Worked out once a program.</summary>
    private static IReadOnlyList<KeptLines> ReadsOf(ScoringProgram program, OutcomeLines outcome) =>
        Reads
            .GetValue(program, p => p.Outcomes.ToDictionary(o => o.Outcome.Name, o => ProgramReads.Of(p, o)))
            .GetValueOrDefault(outcome.Outcome.Name, []);
}
