using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>How answers and values are said: points, a number with its unit, an option's text.</summary>
internal static class AnswerText
{
    /// <summary>A kept answer as it is said: <c>2</c>, <c>3.4 s</c>, an option's text; empty unless known.</summary>
    public static string Text(this KeptResult kept) =>
        kept.State == State.Known ? Of(kept.Lines, kept.Value) : "";

    private static string Of(KeptLines kept, long value)
    {
        if (kept.Step is not { } step)
        {
            return Of(kept.Response, value);
        }

        var number = value * step;
        return kept.Response.Kind == ResponseKind.Rating
            ? number.ToString()
            : WithUnit(number, kept.Response.Unit);
    }

    public static string Of(Response response, long fieldValue)
    {
        if (response.HasOptions)
        {
            return response.Options[(int)fieldValue].Text;
        }

        var points = AnswerValue.PointsOf(response, fieldValue);
        return response.Kind == ResponseKind.Rating ? points.ToString() : WithUnit(points, response.Unit);
    }

    /// <summary><c>3.4 syllables/s</c>, <c>1 drip</c>; a pure number bare.</summary>
    public static string WithUnit(Rational value, Unit unit)
    {
        if (unit.IsPure || unit.Symbol.Length == 0)
        {
            return value.ToString();
        }

        return $"{value} {(value == Rational.One ? Singular(unit.Symbol) : unit.Symbol)}";
    }

    /// <summary>What is counted loses its plural s; a unit of measure such as s or ms never does.</summary>
    private static string Singular(string symbol)
    {
        var end = symbol.IndexOfAny(['/', '.']);
        var counted = end < 0 ? symbol : symbol[..end];
        var isWord =
            counted.Length > 2 && Unit.Of([counted], []).Dimension.Contains('{', StringComparison.Ordinal);
        return isWord && counted.EndsWith('s') && !counted.EndsWith("ss", StringComparison.Ordinal)
            ? counted[..^1] + symbol[counted.Length..]
            : symbol;
    }
}
