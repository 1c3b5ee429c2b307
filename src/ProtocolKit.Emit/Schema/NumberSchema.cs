using System.Numerics;
using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Schema;

/// <summary>Numbers on a step within bounds, so that validators that count in binary fractions judge them rightly.</summary>
internal static class NumberSchema
{
    /// <summary>Beyond this many values the step is given as multipleOf, which some validators misjudge.</summary>
    private const int MostListed = 2000;

    public static JsonObject Of(Response response)
    {
        var steps = (response.High - response.Low) / response.Step;
        if (response.Step.IsInteger)
        {
            var whole = new JsonObject
            {
                ["type"] = "integer",
                ["minimum"] = Literal(response.Low),
                ["maximum"] = Literal(response.High),
            };
            if (response.Step != Rational.One)
            {
                whole["multipleOf"] = Literal(response.Step);
            }

            return whole;
        }

        return steps <= MostListed ? Listed(response, (int)steps.Numerator) : Stepped(response);
    }

    /// <summary>A decimal, digit for digit.</summary>
    public static JsonNode Literal(Rational value) => JsonNode.Parse(value.ToString())!;

    private static JsonObject Listed(Response response, int steps)
    {
        var values = Enumerable
            .Range(0, steps + 1)
            .Select(i => Literal(response.Low + (response.Step * new Rational(i, BigInteger.One))));
        return new JsonObject { ["enum"] = new JsonArray([.. values]) };
    }

    private static JsonObject Stepped(Response response) =>
        new()
        {
            ["type"] = "number",
            ["minimum"] = Literal(response.Low),
            ["maximum"] = Literal(response.High),
            ["multipleOf"] = Literal(response.Step),
        };
}
