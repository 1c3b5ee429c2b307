using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Scores a record: runs the core program and gives its lines back their meaning.</summary>
public static class Scorer
{
    /// <exception cref="ArgumentException">The record's fields are not this protocol's, or lie outside their bounds.</exception>
    public static ScoredRecord Score(Protocol protocol, SittingRecord record)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(record);
        var program = protocol.Program;
        var lines = Evaluator.Run(program, record.Fields);
        var giving = GivingReader.From(program, lines);
        var kept = program
            .Kept.Select(k => Kept(k, lines) with { Giving = giving.Of(k.Task, k.Variant) })
            .ToList();
        var headline = program.HeadlineLine < 0 ? -1 : lines[program.HeadlineLine];
        return new ScoredRecord
        {
            Protocol = protocol,
            Record = record,
            Age = record.Age,
            Kept = kept,
            Outcomes = [.. program.Outcomes.Select(o => Outcome(program, o, kept, lines))],
            Bands = [.. program.Bands.Select(b => Band(b, record, lines))],
            Actions = [.. program.Actions.Select(a => Action(a, lines))],
            Headline = headline < 0 ? null : program.Actions[(int)headline].Action,
            Remarks = [.. Remarks(protocol, record)],
            Lines = lines,
        };
    }

    private static KeptResult Kept(KeptLines kept, long[] lines)
    {
        var state = (State)lines[kept.StateLine];
        var value = state == State.Known ? lines[kept.LowLine] : 0;
        return new KeptResult(kept, state, value, kept.TrialLine < 0 ? 0 : (int)lines[kept.TrialLine]);
    }

    private static OutcomeResult Outcome(
        ScoringProgram program,
        OutcomeLines outcome,
        List<KeptResult> kept,
        long[] lines
    )
    {
        var state = (State)lines[outcome.StateLine];
        var untried = FormulaNames
            .Of(program, outcome.Outcome)
            .Places.Select(i => kept[i])
            .Where(k => k.State.IsUntried())
            .Select(k => (k.Lines.Key, k.State))
            .ToList();
        var result =
            state == State.Known
                ? new OutcomeResult(
                    outcome.Outcome,
                    state,
                    End(outcome.LowLine, outcome.LowDenominatorLine),
                    End(outcome.HighLine, outcome.HighDenominatorLine),
                    untried
                )
                : new OutcomeResult(outcome.Outcome, state, Rational.Zero, Rational.Zero, untried);
        return outcome.Sides is { } sides
            ? result with
            {
                Weaker = (WeakerSide)lines[sides.WeakerLine],
            }
            : result;

        Rational End(int numerator, int denominator) =>
            new Rational(lines[numerator], denominator < 0 ? BigInteger.One : lines[denominator])
            * outcome.Scale;
    }

    private static BandResult Band(BandLine band, SittingRecord record, long[] lines)
    {
        var bands = band.Table.Bands;
        var index = (int)lines[band.Line];
        var row = band.Table.Rows.FirstOrDefault(r => r.Ages.Contains(record.Age));
        return index < bands.Count
            ? new BandResult(band.Table, row, BandState.Known, bands[index])
            : new BandResult(band.Table, row, BandState.Undecided + (index - bands.Count), null);
    }

    private static ActionResult Action(ActionLines action, long[] lines)
    {
        var decision =
            lines[action.AppliesLine] != 0 ? Decision.Applies
            : lines[action.AppliesNotLine] != 0 ? Decision.AppliesNot
            : Decision.Undecided;
        return new ActionResult(action.Action, decision);
    }

    private static IEnumerable<string> Remarks(Protocol protocol, SittingRecord record)
    {
        if (!protocol.Ages.Contains(record.Age))
        {
            yield return $"The child is {record.Age}, outside this protocol's ages {protocol.Ages}, so no cut-off applies.";
        }

        foreach (var remark in record.Remarks)
        {
            yield return remark;
        }
    }
}
