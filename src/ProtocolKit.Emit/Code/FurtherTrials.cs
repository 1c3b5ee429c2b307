using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>When a later trial is given, as a comparison with an earlier answer's field.</summary>
internal sealed class FurtherTrials(ScoringProgram program)
{
    private readonly Dictionary<(string Task, string Variant, string Response, int Trial), int> _answers =
        program
            .Answers.Select((a, i) => ((a.Task.Name, a.Variant.Name, a.Response.Name, a.Trial), i))
            .ToDictionary(a => a.Item1, a => a.i);

    /// <summary>
    /// The index of the answer that decides and the number of steps (or levels) it must be below; -1 and 0
    /// for a trial that is always given.
    /// </summary>
    public (int After, long Below) Of(AnswerSlot answer)
    {
        if (answer.Trial == 1 || answer.Task.Trials.FurtherWhen is not { } further)
        {
            return (-1, 0);
        }

        var after = _answers[(answer.Task.Name, answer.Variant.Name, further.Response, answer.Trial - 1)];
        return (after, Below(program.Answers[after].Response, further.Below));
    }

    private static long Below(Response response, Rational limit)
    {
        if (response.Scale is { } scale)
        {
            return scale.Levels.Count(l => l.Points < limit);
        }

        var steps = limit / response.Step;
        var whole = BigInteger.DivRem(steps.Numerator, steps.Denominator, out var rest);
        return (long)(rest.Sign > 0 ? whole + 1 : whole);
    }
}
