using System.Globalization;
using System.Text;

namespace ProtocolKit.Model;

/// <summary>
/// A unit as a type: a factor, and exponents over base units. Atoms are UCUM's (<c>s</c>, <c>min</c>, <c>mm</c> …);
/// any other plain word is a nominal tag, UCUM's annotation, so that syllables are not taps.
/// Source: The Unified Code for Units of Measure, https://ucum.org (base units and prefixes; from memory).
/// </summary>
public sealed class Unit : IEquatable<Unit>
{
    private static readonly Dictionary<string, (Rational Factor, string Base, int Exponent)> Atoms = new(
        StringComparer.Ordinal
    )
    {
        ["s"] = (1, "s", 1),
        ["ms"] = (new Rational(1, 1000), "s", 1),
        ["min"] = (60, "s", 1),
        ["h"] = (3600, "s", 1),
        ["d"] = (86400, "s", 1),
        ["m"] = (1, "m", 1),
        ["cm"] = (new Rational(1, 100), "m", 1),
        ["mm"] = (new Rational(1, 1000), "m", 1),
        ["g"] = (1, "g", 1),
        ["mg"] = (new Rational(1, 1000), "g", 1),
        ["kg"] = (1000, "g", 1),
        ["L"] = (new Rational(1, 1000), "m", 3),
        ["mL"] = (new Rational(1, 1000000), "m", 3),
        ["Hz"] = (1, "s", -1),
        ["N"] = (1000, "g.m.s-2", 1),
        ["kPa"] = (1000000, "g.m-1.s-2", 1),
    };

    /// <summary>Spellings people type for UCUM's own, with what to write instead.</summary>
    private static readonly Dictionary<string, string> Misspelt = new(StringComparer.Ordinal)
    {
        ["sec"] = "s",
        ["secs"] = "s",
        ["second"] = "s",
        ["seconds"] = "s",
        ["minute"] = "min",
        ["minutes"] = "min",
        ["hour"] = "h",
        ["hours"] = "h",
        ["millimetre"] = "mm",
        ["millimetres"] = "mm",
        ["millimeters"] = "mm",
        ["centimetre"] = "cm",
        ["centimetres"] = "cm",
        ["ml"] = "mL",
        ["hz"] = "Hz",
        ["gram"] = "g",
        ["grams"] = "g",
    };

    private readonly SortedDictionary<string, int> _exponents;

    private Unit(Rational factor, SortedDictionary<string, int> exponents)
    {
        Factor = factor;
        _exponents = exponents;
        Dimension = Describe(exponents);
    }

    /// <summary>A pure number.</summary>
    public static Unit One { get; } = new(1, new(StringComparer.Ordinal));

    /// <summary>How many of the base units one of this unit is.</summary>
    public Rational Factor { get; }

    /// <summary>Exponents in words, such as <c>s-1.{syllables}</c>: equal for units that may be added.</summary>
    public string Dimension { get; }

    /// <summary>As the author wrote it; empty for a pure number.</summary>
    public string Symbol
    {
        // Seconds over seconds are a plain number; seconds over minutes still need their symbol.
        get => IsPure && Factor == 1 ? "" : field;
        private init;
    } = "";

    public bool IsPure => _exponents.Count == 0;

    /// <summary>What to write for a common misspelling such as <c>sec</c>, or null.</summary>
    public static string? SuggestFor(string atom) => Misspelt.GetValueOrDefault(atom);

    /// <summary>A count's own unit, the tag of what is counted.</summary>
    public static Unit Tag(string name) =>
        new(1, new(StringComparer.Ordinal) { ["{" + name + "}"] = 1 }) { Symbol = name };

    /// <summary>
    /// Builds a unit from atoms over atoms (<c>syllables/s</c>). Unknown words become tags.
    /// </summary>
    public static Unit Of(IEnumerable<string> above, IEnumerable<string> below)
    {
        ArgumentNullException.ThrowIfNull(above);
        ArgumentNullException.ThrowIfNull(below);
        var numerator = above.ToList();
        var denominator = below.ToList();
        var unit = One;
        foreach (var atom in numerator)
        {
            unit = unit.Times(Atom(atom));
        }

        foreach (var atom in denominator)
        {
            unit = unit.Over(Atom(atom));
        }

        var symbol = string.Join(".", numerator) + string.Concat(denominator.Select(d => "/" + d));
        return new Unit(unit.Factor, unit._exponents) { Symbol = symbol };
    }

    public Unit Times(Unit other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return new Unit(Factor * other.Factor, Combine(other, 1))
        {
            Symbol = Join(Symbol, other.Symbol, "."),
        };
    }

    public Unit Over(Unit other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return new Unit(Factor / other.Factor, Combine(other, -1))
        {
            Symbol = Join(Symbol, other.Symbol, "/"),
        };
    }

    /// <summary>True where values of both may be added or compared without changing either.</summary>
    public bool Equals(Unit? other) =>
        other is not null && Dimension == other.Dimension && Factor == other.Factor;

    public override bool Equals(object? obj) => Equals(obj as Unit);

    public override int GetHashCode() => HashCode.Combine(Dimension, Factor);

    public override string ToString() => IsPure && Symbol.Length == 0 ? "1" : Symbol;

    private static Unit Atom(string name)
    {
        if (!Atoms.TryGetValue(name, out var known))
        {
            return Tag(name);
        }

        var exponents = new SortedDictionary<string, int>(StringComparer.Ordinal);
        foreach (var part in known.Base.Split('.'))
        {
            var sign = part.IndexOfAny(['-', '2', '3']);
            var name2 = sign < 0 ? part : part[..sign];
            var power = sign < 0 ? 1 : int.Parse(part[sign..], CultureInfo.InvariantCulture);
            exponents[name2] = power * known.Exponent;
        }

        return new Unit(known.Factor, exponents) { Symbol = name };
    }

    private SortedDictionary<string, int> Combine(Unit other, int sign)
    {
        var sum = new SortedDictionary<string, int>(_exponents, StringComparer.Ordinal);
        foreach (var (name, power) in other._exponents)
        {
            sum.TryGetValue(name, out var before);
            if (before + (sign * power) == 0)
            {
                sum.Remove(name);
            }
            else
            {
                sum[name] = before + (sign * power);
            }
        }

        return sum;
    }

    private static string Join(string left, string right, string sign)
    {
        if (right.Length == 0)
        {
            return left;
        }

        return left.Length == 0 && sign == "." ? right : left + sign + right;
    }

    private static string Describe(SortedDictionary<string, int> exponents)
    {
        var text = new StringBuilder();
        foreach (var (name, power) in exponents)
        {
            text.Append(text.Length == 0 ? "" : ".").Append(name);
            if (power != 1)
            {
                text.Append(CultureInfo.InvariantCulture, $"{power}");
            }
        }

        return text.ToString();
    }
}
