using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>A record told as a sitting: what was rated, what was not tried, what came out.</summary>
internal static class SittingWords
{
    private const int MostAnswers = 12;

    /// <param name="beside">The sheet whose answers are not told again.</param>
    /// <param name="outcomes">The values to tell; others are passed over.</param>
    /// <param name="isFlawless">Whether the sheet beside is the flawless one; otherwise it is a first sitting.</param>
    public static ProofSitting Of(
        Protocol protocol,
        long[] fields,
        long[] beside,
        IEnumerable<Outcome> outcomes,
        bool isFlawless = true
    )
    {
        var program = protocol.Program;
        var age = new Age((int)fields[program.AgeField]);
        var form = protocol.HasShortForm
            ? fields[program.FormField] == 1
                ? ", short form"
                : ", full form"
            : "";
        var scored = Scorer.Score(
            protocol,
            new SittingRecord
            {
                Case = "example",
                Age = age,
                Seen = [],
                IsShortForm = fields[program.FormField] == 1,
                Fields = fields,
            }
        );
        var words = new List<string> { $"A child of {age}{form}." };
        words.AddRange(Answers(protocol, fields, beside, isFlawless));
        words.AddRange(Results(scored, outcomes.Select(o => o.Name).ToHashSet(StringComparer.Ordinal)));
        return new ProofSitting(fields, words);
    }

    private static IEnumerable<string> Answers(
        Protocol protocol,
        long[] fields,
        long[] beside,
        bool isFlawless
    )
    {
        var program = protocol.Program;
        var isSmall = program.Answers.Count + program.Observations.Count <= MostAnswers;
        var answers = program
            .Answers.Where(a => fields[a.StateField] != (long)State.NotApplicable)
            .Where(a =>
                isSmall || Differs(fields, beside, a.ValueField) || Differs(fields, beside, a.StateField)
            )
            .Select(a => $"{a.Key}: {Value(a, fields)}");
        var left = LeftOut(program, fields);
        var observations = program
            .Observations.Where(o => Differs(fields, beside, o.Field))
            .Where(o => fields[o.Field] != 0 || !left.Contains((o.Task.Name, o.Variant.Name)))
            .Select(o => $"{o.Key}: {(fields[o.Field] == 2 ? "seen" : "not looked")}");
        var all = answers.Concat(observations).ToList();
        for (var i = 0; i < all.Count && i < MostAnswers; i++)
        {
            yield return "  " + all[i];
        }

        if (all.Count > MostAnswers)
        {
            yield return $"  and {all.Count - MostAnswers} more that differ from {(isFlawless ? "a flawless sheet" : "the first sitting")}";
        }

        if (left.Count > 0 && (isFlawless || !left.SetEquals(LeftOut(program, beside))))
        {
            yield return left.Count == 1 ? "  1 task is not given" : $"  {left.Count} tasks are not given";
        }

        if (!isSmall)
        {
            var rest = isFlawless ? "at its best" : "as in the first sitting";
            yield return all.Count == 0 ? $"  every answer {rest}" : $"  everything else {rest}";
        }
    }

    /// <summary>What routing leaves out, each side and place by itself.</summary>
    private static HashSet<(string Task, string Variant)> LeftOut(ScoringProgram program, long[] fields)
    {
        var lines = Evaluator.Run(program, fields);
        return
        [
            .. program.Giving.Where(g => lines[g.GivenLine] == 0).Select(g => (g.Task.Name, g.Variant.Name)),
        ];
    }

    private static bool Differs(long[] fields, long[] beside, int field) => fields[field] != beside[field];

    private static string Value(AnswerSlot slot, long[] fields)
    {
        var state = (State)fields[slot.StateField];
        if (state.IsUntried())
        {
            return state.ToWords();
        }

        var value = fields[slot.ValueField];
        if (slot.Response.HasOptions)
        {
            return slot.Response.Options[(int)value].Name;
        }

        if (slot.Response.Scale is { } scale)
        {
            return scale.Levels[scale.Levels.Count - 1 - (int)value].Points.ToString();
        }

        return $"{value * slot.Response.Step} {slot.Response.Unit.Symbol}".TrimEnd();
    }

    private static IEnumerable<string> Results(ScoredRecord scored, HashSet<string> outcomes)
    {
        foreach (var result in scored.Outcomes.Where(o => outcomes.Contains(o.Outcome.Name)))
        {
            var bands = scored
                .Bands.Where(b => b.Table.Outcome.Name == result.Outcome.Name && b.Row is not null)
                .Where(b => b.Table.ShortForm == scored.Record.IsShortForm)
                .Select(b => ", " + Band(b));
            yield return $"{result.Outcome.Name} is {Value(result)}{string.Concat(bands)}.";
        }

        if (scored.Actions.Count > 0)
        {
            var apply = scored
                .Actions.Where(a => a.Decision == Decision.Applies)
                .Select(a => a.Action.Name)
                .ToList();
            yield return apply.Count == 0
                ? "No action surely applies."
                : $"Actions: {string.Join(", ", apply)}.";
        }
    }

    private static string Value(OutcomeResult result) =>
        result.State == State.NotApplicable ? "not applicable"
        : result.State != State.Known ? $"blocked ({result.State.ToWords()})"
        : result.IsExact ? result.Low.ToString()
        : $"between {result.Low} and {result.High}";

    private static string Band(BandResult band) =>
        band.State switch
        {
            BandState.Known => band.Band!.Name,
            BandState.Undecided => "undecided",
            BandState.NotApplicable => "no band asked for",
            BandState.Blocked => "blocked",
            _ => "in no band",
        };
}
