using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification;

/// <summary>One output: a word, or a number, or neither where there is no value.</summary>
internal sealed class ExpectedOutput
{
    /// <summary>Relative; a decimal keeps at least 28 digits.</summary>
    private static readonly Rational DecimalSlack = new(1, BigInteger.Pow(10, 26));

    /// <summary>Relative; two roundings of a double.</summary>
    private const double DoubleSlack = 4e-16;

    /// <summary>What was said for it last and found right, in each form: code says the same of one number each time.</summary>
    private readonly string?[] _right = new string?[Enum.GetValues<NumberForm>().Length];
    private readonly Rational? _number;
    private readonly string _text;

    private ExpectedOutput(string key, string text, Rational? number)
    {
        (Key, _text, _number) = (key, text, number);
        IsReason = key.StartsWith("reason ", StringComparison.Ordinal);
        var isScore = key.StartsWith("score ", StringComparison.Ordinal);
        IsInRow = !(
            isScore
            && (
                key.EndsWith(" unit", StringComparison.Ordinal)
                || key.EndsWith(" step", StringComparison.Ordinal)
            )
        );
    }

    public string Key { get; }

    /// <summary>Whether a row of a table has it: units and steps stand in no row.</summary>
    private bool IsInRow { get; }

    private bool IsReason { get; }

    public static ExpectedOutput Word(string key, string text) => new(key, text, null);

    public static ExpectedOutput Of(string key, Rational? number) =>
        new(key, number?.ToString() ?? "none", number);

    /// <summary>The outputs of a record as a row of a table has them.</summary>
    public static IReadOnlyList<ExpectedOutput> AsRow(IReadOnlyList<ExpectedOutput> outputs) =>
        [
            .. outputs.Where(o => o.IsInRow && !o.IsReason),
            Word("reasons", string.Concat(outputs.Where(o => o.IsReason).Select(o => o._text + "; "))),
        ];

    public override string ToString() => _text;

    /// <summary>
    /// Whether a target said the same. A number with a finite decimal must be that decimal, or the double
    /// nearest to it; only a fraction such as 1/3 may be off in the last digit a target keeps.
    /// </summary>
    public bool IsSaidBy(string actual, NumberForm form)
    {
        if (actual == _text || actual == _right[(int)form])
        {
            return true;
        }

        if (_number is not { } number || !IsSame(number, actual, form))
        {
            return false;
        }

        _right[(int)form] = actual;
        return true;
    }

    private static bool IsSame(Rational number, string actual, NumberForm form) =>
        actual.Contains('/', StringComparison.Ordinal) ? IsFraction(number, actual)
        : form == NumberForm.Doubles ? IsNearestDouble(number, actual)
        : form == NumberForm.Decimals ? IsDecimal(number, actual)
        : Rational.TryParse(actual, out var said) && said == number;

    private static bool IsFraction(Rational number, string actual)
    {
        var parts = actual.Split('/');
        return parts.Length == 2
            && BigInteger.TryParse(parts[0], CultureInfo.InvariantCulture, out var above)
            && BigInteger.TryParse(parts[1], CultureInfo.InvariantCulture, out var below)
            && below > 0
            && new Rational(above, below) == number;
    }

    private static bool IsDecimal(Rational number, string actual)
    {
        if (!Rational.TryParse(actual, out var said))
        {
            return false;
        }

        var off = number > said ? number - said : said - number;
        return off.Sign == 0 || (!IsFinite(number) && off <= Size(number) * DecimalSlack);
    }

    private static bool IsNearestDouble(Rational number, string actual)
    {
        if (!double.TryParse(actual, NumberStyles.Float, CultureInfo.InvariantCulture, out var said))
        {
            return false;
        }

        if (IsFinite(number) && Size(number).Numerator <= ScoringProgram.Limit)
        {
            return said == double.Parse(number.ToString(), CultureInfo.InvariantCulture);
        }

        var wanted = (double)number.Numerator / (double)number.Denominator;
        return Math.Abs(said - wanted) <= Math.Abs(wanted) * DoubleSlack;
    }

    private static bool IsFinite(Rational number) =>
        !number.ToString().Contains('/', StringComparison.Ordinal);

    private static Rational Size(Rational number) => number.Sign < 0 ? -number : number;
}
