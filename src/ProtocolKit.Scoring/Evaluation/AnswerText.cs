using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>How answers and values are said: points, a number with its unit, an option's text.</summary>
internal static class AnswerText
{
    public static string Of(Response response, long fieldValue) =>
        response.HasOptions
            ? response.Options[(int)fieldValue].Text
            : WithUnit(
                AnswerValue.PointsOf(response, fieldValue),
                response.Kind == ResponseKind.Rating ? "" : response.Unit.Symbol
            );

    public static string WithUnit(Rational value, string unit) =>
        unit.Length == 0 ? value.ToString() : $"{value} {unit}";
}
