using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>
/// How a number is read from text without floating point: with its point shifted to the right by
/// <see cref="Decimals"/> digits it is whole, and so are its bounds and its step.
/// </summary>
/// <param name="Decimals">How many digits may stand behind the point.</param>
/// <param name="Low">The lowest value with its point shifted.</param>
/// <param name="Step">The step with its point shifted; 1 for a rating.</param>
/// <param name="Levels">A rating's points with their point shifted, lowest first; empty for other answers.</param>
internal sealed record NumberReading(int Decimals, long Low, long High, long Step, IReadOnlyList<long> Levels)
{
    /// <summary>A regular expression every engine reads alike: the digits that may be, then any zeros.</summary>
    public string Pattern =>
        Decimals == 0
            ? "^-?[0-9]{1,16}([.]0+)?$"
            : string.Create(
                CultureInfo.InvariantCulture,
                $"^-?[0-9]{{1,{17 - Decimals}}}([.][0-9]{{1,{Decimals}}}0*)?$"
            );

    public static NumberReading Of(Response response)
    {
        var levels = response.Scale?.Levels.Select(l => l.Points).Order().ToList() ?? [];
        var numbers = levels.Count > 0 ? levels : [response.Low, response.High, response.Step];
        var decimals = 0;
        while (decimals < 9 && numbers.Any(n => Shifted(n, decimals).Denominator != 1))
        {
            decimals++;
        }

        return levels.Count > 0
            ? new NumberReading(
                decimals,
                Whole(levels[0], decimals),
                Whole(levels[^1], decimals),
                1,
                [.. levels.Select(l => Whole(l, decimals))]
            )
            : new NumberReading(
                decimals,
                Whole(response.Low, decimals),
                Whole(response.High, decimals),
                Whole(response.Step, decimals),
                []
            );
    }

    /// <summary>What an answer may be, in a few words for messages.</summary>
    public static string Expected(Response response)
    {
        if (response.HasOptions)
        {
            return "one of " + string.Join(", ", response.Options.Select(o => o.Name));
        }

        return response.Scale is { } scale
            ? "one of " + string.Join(", ", scale.Levels.Select(l => l.Points).Order())
            : $"a number from {response.Low} to {response.High} in steps of {response.Step}";
    }

    private static Rational Shifted(Rational number, int decimals) =>
        number * new Rational(BigInteger.Pow(10, decimals), 1);

    private static long Whole(Rational number, int decimals)
    {
        var shifted = Shifted(number, decimals);
        return (long)(shifted.Numerator / shifted.Denominator);
    }
}
