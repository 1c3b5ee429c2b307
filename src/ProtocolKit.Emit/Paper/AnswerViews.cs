using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>The boxes of one answer: points to circle, options to tick, digits to write.</summary>
internal static class AnswerViews
{
    public static AnswerView Of(Response response, string key, bool labelled) =>
        response.Kind switch
        {
            ResponseKind.Rating => Rating(response, key, labelled),
            ResponseKind.Direction => Direction(response, key),
            ResponseKind.YesNo or ResponseKind.Choice => Options(response, key, labelled),
            _ => Number(response, key),
        };

    private static AnswerView Rating(Response response, string key, bool labelled) =>
        new(key, "rating", labelled ? Names.ToTitle(response.Name) : null, Points(response.Scale), null);

    private static List<BoxView> Points(Scale? scale) =>
        (scale?.Levels ?? []).Select(level => new BoxView(level.Points.ToString(), false)).ToList();

    /// <summary>The child's right stands at the left of the page, as the examiner sees it.</summary>
    private static AnswerView Direction(Response response, string key)
    {
        var boxes = response
            .Options.OrderBy(o =>
                o.Name switch
                {
                    "right" => 0,
                    "left" => 2,
                    _ => 1,
                }
            )
            .Select(o => new BoxView(Names.ToWords(o.Name), false))
            .ToList();
        return new(key, "direction", null, boxes, null);
    }

    private static string TextOf(Option option) =>
        option.Text.Length > 0 ? option.Text : Names.ToWords(option.Name);

    private static AnswerView Options(Response response, string key, bool labelled)
    {
        var boxes = response.Options.Select(o => new BoxView(TextOf(o), false)).ToList();
        var named = labelled || response.Name is not ("choice" or "yes-no");
        return new(key, "options", named ? Names.ToTitle(response.Name) : null, boxes, null);
    }

    /// <summary>One box a digit; a step that decimals can't write gets one long box.</summary>
    private static AnswerView Number(Response response, string key)
    {
        var label = Names.ToWords(response.Name);
        var unit = response.Unit.ToString();
        var decimals = Decimals(response.Step);
        if (decimals is null || response.Low.Sign < 0)
        {
            return new(key, "free", label, [new BoxView("", false)], unit);
        }

        var whole = BigInteger.Divide(response.High.Numerator, response.High.Denominator);
        var digits = whole.ToString(CultureInfo.InvariantCulture).Length;
        var boxes = Enumerable.Range(0, digits + decimals.Value).Select(i => new BoxView("", i == digits));
        return new(
            key,
            "number",
            label,
            boxes.ToList(),
            response.Kind == ResponseKind.Count && unit == response.Name ? null : unit
        );
    }

    /// <summary>Digits after the point that every multiple of the step can be written with, if any number will do.</summary>
    private static int? Decimals(Rational step)
    {
        Rational scaled = step;
        for (var digits = 0; digits <= 4; digits++)
        {
            if (scaled.IsInteger)
            {
                return digits;
            }

            scaled *= 10;
        }

        return null;
    }
}
