using System.Globalization;
using System.Numerics;

namespace ProtocolKit.Model;

/// <summary>
/// An exact fraction in lowest terms with a positive denominator. Scoring itself runs on integers;
/// fractions serve the compiler (steps, unit factors, typed numbers) and the printing of results.
/// </summary>
public readonly struct Rational : IEquatable<Rational>, IComparable<Rational>
{
    private readonly BigInteger _denominatorLessOne;

    public Rational(BigInteger numerator, BigInteger denominator)
    {
        if (denominator.IsZero)
        {
            throw new DivideByZeroException("A fraction needs a denominator other than zero.");
        }

        // Whole numbers are by far the most.
        if (denominator.IsOne)
        {
            Numerator = numerator;
            return;
        }

        var divisor = BigInteger.GreatestCommonDivisor(numerator, denominator);
        if (denominator.Sign < 0)
        {
            divisor = -divisor;
        }

        Numerator = numerator / divisor;
        _denominatorLessOne = (denominator / divisor) - 1;
    }

    public static Rational Zero { get; } = new(0, 1);
    public static Rational One { get; } = new(1, 1);

    public BigInteger Numerator { get; }
    public BigInteger Denominator => _denominatorLessOne + 1;
    public int Sign => Numerator.Sign;
    public bool IsInteger => _denominatorLessOne.IsZero;
    private bool IsOne => IsInteger && Numerator.IsOne;

    public static implicit operator Rational(long value) => new(value, 1);

    public static Rational operator +(Rational a, Rational b) =>
        new((a.Numerator * b.Denominator) + (b.Numerator * a.Denominator), a.Denominator * b.Denominator);

    public static Rational operator -(Rational a, Rational b) => a + -b;

    public static Rational operator -(Rational a) => new(-a.Numerator, a.Denominator);

    public static Rational operator *(Rational a, Rational b) =>
        new(a.Numerator * b.Numerator, a.Denominator * b.Denominator);

    /// <exception cref="DivideByZeroException"><paramref name="b"/> is zero.</exception>
    public static Rational operator /(Rational a, Rational b) =>
        b.IsOne ? a : new(a.Numerator * b.Denominator, a.Denominator * b.Numerator);

    public static bool operator ==(Rational a, Rational b) => a.Equals(b);

    public static bool operator !=(Rational a, Rational b) => !a.Equals(b);

    public static bool operator <(Rational a, Rational b) => a.CompareTo(b) < 0;

    public static bool operator >(Rational a, Rational b) => a.CompareTo(b) > 0;

    public static bool operator <=(Rational a, Rational b) => a.CompareTo(b) <= 0;

    public static bool operator >=(Rational a, Rational b) => a.CompareTo(b) >= 0;

    /// <summary>
    /// The largest fraction of which both are whole multiples: the common step of two answers
    /// (0.5 and 0.2 share 0.1). Zero shares the other's step.
    /// </summary>
    public static Rational CommonStep(Rational a, Rational b)
    {
        var left = BigInteger.GreatestCommonDivisor(a.Numerator * b.Denominator, b.Numerator * a.Denominator);
        return new Rational(left, a.Denominator * b.Denominator);
    }

    /// <summary>
    /// Reads a plain decimal such as <c>12</c>, <c>-0.5</c> or <c>3.40</c>: digits, at most one point,
    /// at most 40 characters; no exponent, no thousands mark.
    /// </summary>
    public static bool TryParse(ReadOnlySpan<char> text, out Rational value)
    {
        value = Zero;
        var negative = text.Length > 0 && text[0] == '-';
        var digits = negative ? text[1..] : text;
        if (digits.Length is 0 or > 40 || digits[0] == '.' || digits[^1] == '.')
        {
            return false;
        }

        BigInteger number = 0;
        BigInteger scale = 1;
        var afterPoint = false;
        foreach (var c in digits)
        {
            if (c == '.' && !afterPoint)
            {
                afterPoint = true;
                continue;
            }

            if (!char.IsAsciiDigit(c))
            {
                return false;
            }

            number = (number * 10) + (c - '0');
            scale = afterPoint ? scale * 10 : scale;
        }

        value = new Rational(negative ? -number : number, scale);
        return true;
    }

    /// <summary>True, with the count, where this is a whole multiple of <paramref name="step"/>.</summary>
    public bool TryCountSteps(Rational step, out BigInteger count)
    {
        var quotient = this / step;
        count = quotient.Numerator;
        return quotient.IsInteger;
    }

    /// <summary>The nearest whole number, a half upwards: floor(x + 1/2), also below zero.</summary>
    public BigInteger RoundHalfUp()
    {
        var quotient = BigInteger.DivRem((2 * Numerator) + Denominator, 2 * Denominator, out var rest);
        return rest.Sign < 0 ? quotient - 1 : quotient;
    }

    public int CompareTo(Rational other) =>
        (Numerator * other.Denominator).CompareTo(other.Numerator * Denominator);

    public bool Equals(Rational other) =>
        Numerator == other.Numerator && _denominatorLessOne == other._denominatorLessOne;

    public override bool Equals(object? obj) => obj is Rational other && Equals(other);

    public override int GetHashCode() => HashCode.Combine(Numerator, _denominatorLessOne);

    /// <summary>A decimal where one exists (<c>3.4</c>), else a fraction (<c>1/3</c>). Culture plays no part.</summary>
    public override string ToString()
    {
        if (IsInteger)
        {
            return BigInteger.Abs(Numerator) <= long.MaxValue
                ? ((long)Numerator).ToString(CultureInfo.InvariantCulture)
                : Numerator.ToString(CultureInfo.InvariantCulture);
        }

        var places = 0;
        var rest = Denominator;
        var scaled = Numerator;
        while (!rest.IsOne && places < 30)
        {
            if (!(rest % 10).IsZero && !(rest % 2).IsZero && !(rest % 5).IsZero)
            {
                return $"{Numerator.ToString(CultureInfo.InvariantCulture)}/{Denominator.ToString(CultureInfo.InvariantCulture)}";
            }

            scaled *= 10;
            places++;
            var divisor = BigInteger.GreatestCommonDivisor(scaled, rest);
            scaled /= divisor;
            rest /= divisor;
        }

        return Point(scaled, places);
    }

    private static string Point(BigInteger scaled, int places)
    {
        var digits = BigInteger.Abs(scaled).ToString(CultureInfo.InvariantCulture).PadLeft(places + 1, '0');
        var sign = scaled.Sign < 0 ? "-" : "";
        return places == 0 ? sign + digits : $"{sign}{digits[..^places]}.{digits[^places..]}";
    }
}
