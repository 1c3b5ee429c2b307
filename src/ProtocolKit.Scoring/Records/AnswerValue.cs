using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>What a typed answer means, or why it means nothing.</summary>
/// <param name="Steps">The field's value when known: steps, or the index of a level or an option.</param>
/// <param name="Fault">What is wrong, to follow the answer's key; empty when nothing is.</param>
/// <param name="Remark">Something to look at again that refuses nothing.</param>
internal readonly record struct AnswerValue(
    State State,
    long Steps,
    string Fault,
    string Mend,
    string? Remark
)
{
    public bool IsWrong => Fault.Length > 0;

    public bool IsKnown => !IsWrong && State == State.Known;

    public static AnswerValue Read(Response response, string typed)
    {
        var text = typed.Trim();
        foreach (var (state, code, _) in States.Untried)
        {
            if (text == code)
            {
                return new AnswerValue(state, 0, "", "", null);
            }
        }

        if (response.HasOptions)
        {
            return Option(response, text);
        }

        if (!Rational.TryParse(text, out var number))
        {
            return Wrong($"is {Say.Quote(typed)}, which is no number", NumberMend(response, text));
        }

        return response.Kind == ResponseKind.Rating ? Level(response, number) : Number(response, number);
    }

    /// <summary>How a field's value is written in a record; the opposite of <see cref="Read"/>.</summary>
    public static string Write(Response response, State state, long steps)
    {
        if (state != State.Known)
        {
            return States.Untried.First(u => u.State == state).Code;
        }

        if (response.HasOptions)
        {
            return response.Options[(int)steps].Name;
        }

        return PointsOf(response, steps).ToString();
    }

    /// <summary>The number a field stands for: a level's points, or the steps in the answer's unit.</summary>
    public static Rational PointsOf(Response response, long steps) =>
        response.Kind == ResponseKind.Rating
            ? response.Scale!.Levels[response.Scale.Levels.Count - 1 - (int)steps].Points
            : steps * response.Step;

    private static AnswerValue Known(long steps, string? remark = null) =>
        new(State.Known, steps, "", "", remark);

    private static AnswerValue Wrong(string fault, string mend) => new(State.Known, 0, fault, mend, null);

    private static AnswerValue Option(Response response, string text)
    {
        for (var i = 0; i < response.Options.Count; i++)
        {
            if (response.Options[i].Name == text)
            {
                return Known(i);
            }
        }

        var names = response.Options.Select(o => o.Name).ToList();
        var meant =
            response.Kind == ResponseKind.YesNo && text is "true" or "false"
                ? (text == "true" ? names[0] : names[^1])
                : Nearest.To(text, names);
        return Wrong(
            $"is {Say.Quote(text)}, which is none of its answers",
            (meant is null ? "" : $"Perhaps you mean {meant}. ") + $"Write {Say.List(names, "or")}, {OrCode}."
        );
    }

    private static AnswerValue Level(Response response, Rational points)
    {
        var levels = response.Scale!.Levels;
        for (var i = 0; i < levels.Count; i++)
        {
            if (levels[i].Points == points)
            {
                return Known(levels.Count - 1 - i);
            }
        }

        return Wrong(
            $"is {points}, which is no level of the scale {response.Scale.Name}",
            $"Write {LevelsOf(response)}, {OrCode}."
        );
    }

    private static AnswerValue Number(Response response, Rational number)
    {
        if (number < response.Low || number > response.High)
        {
            return Wrong($"is {number}, outside its bounds", $"It can be {RangeOf(response)}.");
        }

        if (!number.TryCountSteps(response.Step, out var steps))
        {
            return Wrong(
                $"is {number}, which lies between two steps of {response.Step}",
                $"Write {Neighbours(response, number)}."
            );
        }

        return Known((long)steps, Doubt(response, number));
    }

    private static string? Doubt(Response response, Rational number)
    {
        var low = response.PlausibleLow is { } from && number < from;
        var high = response.PlausibleHigh is { } to && number > to;
        return low || high
            ? $"is {WithUnit(response, number)}, outside the plausible {response.PlausibleLow} to "
                + $"{WithUnit(response, response.PlausibleHigh ?? response.High)}: please look at it again"
            : null;
    }

    private static string Neighbours(Response response, Rational number)
    {
        var quotient = number / response.Step;
        var below = System.Numerics.BigInteger.Divide(quotient.Numerator, quotient.Denominator);
        below = quotient.Sign < 0 ? below - 1 : below;
        return $"{new Rational(below, 1) * response.Step} or {new Rational(below + 1, 1) * response.Step}";
    }

    private static string NumberMend(Response response, string text)
    {
        var point = text.Replace(',', '.');
        if (point != text && Rational.TryParse(point, out var meant))
        {
            return $"Write it with a point: {meant}.";
        }

        var bare = text.Split(' ', 2)[0].TrimEnd("abcdefghijklmnopqrstuvwxyz".ToCharArray());
        if (bare.Length < text.Length && Rational.TryParse(bare, out var number))
        {
            return $"Write the number alone: {number}.";
        }

        var code = Nearest.To(text, States.Untried.Select(u => u.Code));
        return code is not null ? $"Perhaps you mean {code}."
            : response.Kind == ResponseKind.Rating ? $"Write {LevelsOf(response)}, {OrCode}."
            : $"Write {RangeOf(response)}, {OrCode}.";
    }

    private static string OrCode =>
        "or why it wasn't tried: " + string.Join(", ", States.Untried.Select(u => u.Code));

    private static string LevelsOf(Response response) =>
        Say.List(response.Scale!.Levels.Select(l => l.Points.ToString()), "or");

    private static string RangeOf(Response response) =>
        $"{response.Low} to {WithUnit(response, response.High)}, in steps of {response.Step}";

    private static string WithUnit(Response response, Rational number) =>
        AnswerText.WithUnit(number, response.Unit);
}
