using System.Globalization;
using System.Text.RegularExpressions;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Numerics;

namespace ProtocolKit.Cases;

/// <summary>
/// A formula as a case writes one: mean((s-mean(s))^2), 206.835 - 1.015*words/sentences. Numbers, names of numbers or of
/// lists, + - * / ^ and brackets, and a few functions of lists. Lists are worked on entry by entry.
/// </summary>
internal sealed partial class Formula
{
    private static readonly Dictionary<string, Func<double[], double>> OfList = new(StringComparer.Ordinal)
    {
        ["mean"] = Descriptive.Mean,
        ["median"] = Descriptive.Median,
        ["var"] = Descriptive.Variance,
        ["sd"] = Descriptive.StandardDeviation,
        ["sum"] = x => x.Sum(),
        ["length"] = x => x.Length,
        ["min"] = x => x.Min(),
        ["max"] = x => x.Max(),
    };

    private static readonly Dictionary<string, Func<double, double>> OfEach = new(StringComparer.Ordinal)
    {
        ["sqrt"] = Math.Sqrt,
        ["log"] = Math.Log,
        ["log10"] = Math.Log10,
        ["exp"] = Math.Exp,
        ["abs"] = Math.Abs,
    };

    private readonly string[] _parts;
    private readonly IReadOnlyDictionary<string, double[]> _names;
    private int _at;

    private Formula(string text, IReadOnlyDictionary<string, double[]> names)
    {
        _parts = [.. Pattern().Matches(FunctionHead().Replace(text, "")).Select(m => m.Value)];
        _names = names;
    }

    /// <summary>The value of a formula, one number.</summary>
    /// <exception cref="NotEstimableException">A name or sign that isn't known, or a list where a number is needed.</exception>
    public static double Value(string text, IReadOnlyDictionary<string, double[]> names)
    {
        var formula = new Formula(text, names);
        var value = formula.Sum();
        return formula._at == formula._parts.Length && value.Length == 1
            ? value[0]
            : throw new NotEstimableException($"The formula \"{text}\" is not understood.");
    }

    private string Next => _at < _parts.Length ? _parts[_at] : "";

    private double[] Sum()
    {
        var left = Product();
        while (Next is "+" or "-")
        {
            var plus = _parts[_at++] == "+";
            left = Each(left, Product(), plus ? (a, b) => a + b : (a, b) => a - b);
        }

        return left;
    }

    private double[] Product()
    {
        var left = Signed();
        while (Next is "*" or "/")
        {
            var times = _parts[_at++] == "*";
            left = Each(left, Signed(), times ? (a, b) => a * b : (a, b) => a / b);
        }

        return left;
    }

    private double[] Signed()
    {
        if (Next == "-")
        {
            _at++;
            return [.. Signed().Select(v => -v)];
        }

        var value = Atom();
        if (Next != "^")
        {
            return value;
        }

        _at++;
        return Each(value, Signed(), Math.Pow);
    }

    private double[] Atom()
    {
        var word = Next;
        _at++;
        if (double.TryParse(word, NumberStyles.Float, CultureInfo.InvariantCulture, out var number))
        {
            return [number];
        }

        if (word == "(")
        {
            return Closed();
        }

        if (Next == "(")
        {
            _at++;
            var argument = Closed();
            return OfList.TryGetValue(word, out var list) ? [list(argument)]
                : OfEach.TryGetValue(word, out var each) ? [.. argument.Select(each)]
                : throw new NotEstimableException($"A function \"{word}\" is not known in a formula.");
        }

        return _names.TryGetValue(word, out var found)
            ? found
            : throw new NotEstimableException($"\"{word}\" is not known in a formula.");
    }

    private double[] Closed()
    {
        var value = Sum();
        return Next == ")" && ++_at > 0
            ? value
            : throw new NotEstimableException("A bracket of a formula is not closed.");
    }

    private static double[] Each(double[] a, double[] b, Func<double, double, double> of) =>
        a.Length == b.Length ? [.. a.Zip(b, of)]
        : b.Length == 1 ? [.. a.Select(v => of(v, b[0]))]
        : a.Length == 1 ? [.. b.Select(v => of(a[0], v))]
        : throw new NotEstimableException("Two lists of a formula have different lengths.");

    [GeneratedRegex(@"^\s*function\([^)]*\)")]
    private static partial Regex FunctionHead();

    [GeneratedRegex(@"\d*\.?\d+(?:[eE][-+]?\d+)?|[A-Za-z_]\w*|\S")]
    private static partial Regex Pattern();
}
