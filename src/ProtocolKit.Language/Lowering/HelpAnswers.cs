using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Where help has a cost, which help was given is an answer of its own, from the strongest to none, and what came of it another one, asked
/// for only where there was help.
/// </summary>
/// <param name="Rungs">The strongest first; then none.</param>
/// <param name="Aided">What came of it, by rating.</param>
internal sealed record HelpAnswers(
    IReadOnlyList<HelpRung> Rungs,
    TrialAnswer Given,
    IReadOnlyDictionary<string, TrialAnswer> Aided
)
{
    public static HelpAnswers Lay(
        ProgramBuilder program,
        List<AnswerSlot> slots,
        ProtocolTask task,
        Variant variant
    )
    {
        var rungs = task.HelpRungs().Reverse().ToList();
        var given = new Response
        {
            Name = HelpLadder.Answer,
            Kind = ResponseKind.Choice,
            Options =
            [
                .. rungs.Select(r => new Option(Slug(r.Text), r.Text)),
                new Option(HelpLadder.None, "No help"),
            ],
            High = rungs.Count,
            Better = Better.Higher,
            Qualitative = true,
            Origin = task.Origin,
        };
        var ratings = task.Responses.Where(r => r.Kind == ResponseKind.Rating).ToList();
        var asked = task with
        {
            Name = $"{task.Name}.{HelpLadder.With}",
            Responses = [given, .. ratings],
            Trials = new TrialPlan(2, Keep.Last, null, new FurtherTrial(given.Name, rungs.Count)),
            Ticks = [],
            Help = [],
        };
        var side = variant.Name.Length == 0 ? "" : "." + variant.Name;
        return new HelpAnswers(
            rungs,
            Slot($"{task.Name}.{HelpLadder.Answer}{side}", given, 1),
            ratings.ToDictionary(
                r => r.Name,
                r => Slot($"{task.Name}.{r.Name}{side}.{HelpLadder.With}", r, 2),
                StringComparer.Ordinal
            )
        );

        TrialAnswer Slot(string key, Response response, int trial)
        {
            var (low, high) = Encoding.Bounds(response);
            var value = program.Field(key, low, high, Encoding.Note(response));
            var state = program.Field(
                key + ".state",
                0,
                (long)State.Stopped,
                "0 answered, 1 not applicable, 2 to 8 untried"
            );
            slots.Add(
                new AnswerSlot(key, asked, response, variant, trial, value.Field, state.Field)
                {
                    IsHelp = true,
                }
            );
            return new TrialAnswer(value, state);
        }
    }

    /// <summary>
    /// The rating that counts, in steps: the unaided one, or what came of help less its cost where that is better. The unaided one is never
    /// beyond the scale's poorest level, and so the result isn't either.
    /// </summary>
    public SteppedAnswer Cost(Response response, IntExpr state, IntExpr index, IntMath math)
    {
        var aided = Aided[response.Name];
        var isHelped = Bools.And(
            Bools.And(Bools.Equal(Given.State, 0), Bools.Equal(aided.State, 0)),
            Bools.AtMost(Given.Value, Rungs.Count - 1)
        );
        var cost = IntMath.Pick(
            Given.Value,
            [
                .. Rungs.Select((r, i) => new PickCase(i, i, (long)(r.Cost / response.Step).Numerator)),
                new PickCase(Rungs.Count, Rungs.Count, 0),
            ]
        );
        var alone = Encoding.Points(response, index, math);
        var with = Encoding.Points(response, aided.Value, math);
        var better =
            response.Better == Better.Higher
                ? IntMath.Most(alone, math.Subtract(with, cost))
                : IntMath.Least(alone, math.Add(with, cost));
        var value = IntMath.Choose(isHelped, better, alone);
        return new SteppedAnswer(
            state,
            IntMath.Within(value, alone.Low, alone.High),
            response.Step,
            alone.Low,
            alone.High
        );
    }

    /// <summary>A rung's words as the name of an option.</summary>
    private static string Slug(string text)
    {
        var parts = text.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select(w => new string([.. w.ToLowerInvariant().Where(char.IsAsciiLetterOrDigit)]))
            .Where(w => w.Length > 0);
        return string.Join('-', parts);
    }
}
