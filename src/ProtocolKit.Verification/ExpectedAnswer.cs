using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Verification;

/// <summary>What the reference says of a record: every line, and every output of a record's scoring.</summary>
internal sealed record ExpectedAnswer(IReadOnlyList<long> Lines, IReadOnlyList<ExpectedOutput> Outputs)
{
    public static ExpectedAnswer Of(Protocol protocol, long[] fields)
    {
        var lines = Evaluator.Run(protocol.Program, fields);
        return new ExpectedAnswer(lines, [.. OutputsOf(protocol.Program, fields, lines)]);
    }

    private static IEnumerable<ExpectedOutput> OutputsOf(
        ScoringProgram program,
        long[] fields,
        long[] lines
    ) =>
        program
            .Outcomes.SelectMany(o => Score(o, lines))
            .Concat(program.Bands.Where(b => IsInUse(program, b, fields)).Select(b => Band(b, lines)))
            .Concat(program.Actions.Select(a => Action(a, lines)))
            .Append(Headline(program, lines))
            .Concat(Reasons(program, lines));

    private static IEnumerable<ExpectedOutput> Score(OutcomeLines outcome, long[] lines)
    {
        var name = $"score {outcome.Outcome.Name} ";
        var state = (State)lines[outcome.StateLine];
        var isKnown = state == State.Known;
        yield return ExpectedOutput.Word(name + "state", state.ToWords());
        yield return ExpectedOutput.Of(
            name + "low",
            isKnown ? Value(outcome.LowLine, outcome.LowDenominatorLine, outcome.Scale, lines) : null
        );
        yield return ExpectedOutput.Of(
            name + "high",
            isKnown ? Value(outcome.HighLine, outcome.HighDenominatorLine, outcome.Scale, lines) : null
        );
        yield return ExpectedOutput.Word(name + "unit", outcome.Outcome.Unit.Symbol);
        yield return ExpectedOutput.Of(name + "step", outcome.Outcome.Step);
    }

    private static Rational Value(int line, int denominator, Rational scale, long[] lines) =>
        new Rational(lines[line], denominator < 0 ? 1 : lines[denominator]) * scale;

    private static bool IsInUse(ScoringProgram program, BandLine band, long[] fields) =>
        band.Table.ShortForm == (fields[program.FormField] == 1);

    private static ExpectedOutput Band(BandLine band, long[] lines)
    {
        var index = (int)lines[band.Line];
        var bands = band.Table.Bands;
        var word =
            index < bands.Count
                ? bands[index].Name
                : (BandState)(index - bands.Count + 1) switch
                {
                    BandState.Undecided => "undecided",
                    BandState.NotApplicable => "not applicable",
                    BandState.Blocked => "blocked",
                    _ => "no band",
                };
        return ExpectedOutput.Word($"band {band.Table.Outcome.Name}", word);
    }

    private static ExpectedOutput Action(ActionLines action, long[] lines)
    {
        var unsure = lines[action.AppliesNotLine] == 1 ? "applies not" : "undecided";
        return ExpectedOutput.Word(
            $"action {action.Action.Name}",
            lines[action.AppliesLine] == 1 ? "applies" : unsure
        );
    }

    private static ExpectedOutput Headline(ScoringProgram program, long[] lines)
    {
        var index = program.HeadlineLine < 0 ? -1 : lines[program.HeadlineLine];
        return ExpectedOutput.Word("headline", index < 0 ? "none" : program.Actions[(int)index].Action.Name);
    }

    private static IEnumerable<ExpectedOutput> Reasons(ScoringProgram program, long[] lines)
    {
        var states = program.Kept.ToDictionary(
            k => k.Key,
            k => (State)lines[k.StateLine],
            StringComparer.Ordinal
        );
        return program
            .Outcomes.SelectMany(o => o.Reads.Select(key => (o.Outcome.Name, Key: key)))
            .Where(r => states.GetValueOrDefault(r.Key).IsUntried())
            .Select(
                (r, i) =>
                    ExpectedOutput.Word(
                        string.Create(CultureInfo.InvariantCulture, $"reason {i + 1}"),
                        $"{r.Name}: {r.Key} {states[r.Key].ToWords()}"
                    )
            );
    }
}
