using System.Globalization;

namespace ProtocolKit.Model;

/// <summary>
/// A unit as a type: a factor, and exponents over base units. Atoms are UCUM's (<c>s</c>, <c>min</c>, <c>mm</c> …);
/// any other plain word is a nominal tag, UCUM's annotation, so that syllables are not taps.
/// Source: The Unified Code for Units of Measure, https://ucum.org (base units and prefixes; from memory).
/// </summary>
public sealed class Unit : IEquatable<Unit>
{
    private static readonly Dictionary<string, Unit> Atoms = new[]
    {
        Known("s", 1, new Power("s", 1)),
        Known("ms", new Rational(1, 1000), new Power("s", 1)),
        Known("min", 60, new Power("s", 1)),
        Known("h", 3600, new Power("s", 1)),
        Known("d", 86400, new Power("s", 1)),
        Known("m", 1, new Power("m", 1)),
        Known("cm", new Rational(1, 100), new Power("m", 1)),
        Known("mm", new Rational(1, 1000), new Power("m", 1)),
        Known("g", 1, new Power("g", 1)),
        Known("mg", new Rational(1, 1000), new Power("g", 1)),
        Known("kg", 1000, new Power("g", 1)),
        Known("L", new Rational(1, 1000), new Power("m", 3)),
        Known("mL", new Rational(1, 1000000), new Power("m", 3)),
        Known("Hz", 1, new Power("s", -1)),
        Known("N", 1000, new Power("g", 1), new Power("m", 1), new Power("s", -2)),
        Known("kPa", 1000000, new Power("g", 1), new Power("m", -1), new Power("s", -2)),
    }.ToDictionary(u => u.Symbol, StringComparer.Ordinal);

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

    private readonly IReadOnlyList<Power> _powers;

    /// <param name="powers">By base, none of them 0.</param>
    private Unit(Rational factor, IReadOnlyList<Power> powers)
    {
        Factor = factor;
        _powers = powers;
    }

    /// <summary>A pure number.</summary>
    public static Unit One { get; } = new(1, []);

    /// <summary>How many of the base units one of this unit is.</summary>
    public Rational Factor { get; }

    /// <summary>Exponents in words, such as <c>s-1.{syllables}</c>: equal for units that may be added.</summary>
    public string Dimension => field ??= string.Join('.', _powers);

    /// <summary>As the author wrote it; empty for a pure number.</summary>
    public string Symbol
    {
        // Seconds over seconds are a plain number; seconds over minutes still need their symbol.
        get => IsPure && Factor == 1 ? "" : field;
        private init;
    } = "";

    public bool IsPure => _powers.Count == 0;

    /// <summary>What to write for a common misspelling such as <c>sec</c>, or null.</summary>
    public static string? SuggestFor(string atom) => Misspelt.GetValueOrDefault(atom);

    /// <summary>A count's own unit, the tag of what is counted.</summary>
    public static Unit Tag(string name) => new(1, [new Power("{" + name + "}", 1)]) { Symbol = name };

    /// <summary>
    /// Builds a unit from atoms over atoms (<c>syllables/s</c>). Unknown words become tags.
    /// </summary>
    public static Unit Of(IEnumerable<string> above, IEnumerable<string> below)
    {
        ArgumentNullException.ThrowIfNull(above);
        ArgumentNullException.ThrowIfNull(below);
        var numerator = above.ToList();
        var denominator = below.ToList();
        if (numerator.Count == 1 && denominator.Count == 0)
        {
            return Atom(numerator[0]);
        }

        var unit = numerator.Count > 0 ? Atom(numerator[0]) : One;
        for (var i = 1; i < numerator.Count; i++)
        {
            unit = unit.Times(Atom(numerator[i]));
        }

        foreach (var atom in denominator)
        {
            unit = unit.Over(Atom(atom));
        }

        var symbol = string.Join(".", numerator) + string.Concat(denominator.Select(d => "/" + d));
        return new Unit(unit.Factor, unit._powers) { Symbol = symbol };
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

    private static Unit Known(string symbol, Rational factor, params Power[] powers) =>
        new(factor, powers) { Symbol = symbol };

    private static Unit Atom(string name) => Atoms.TryGetValue(name, out var known) ? known : Tag(name);

    private List<Power> Combine(Unit other, int sign)
    {
        var sum = _powers.ToList();
        foreach (var (name, exponent) in other._powers)
        {
            var at = IndexOf(sum, name);
            var together = (at < 0 ? 0 : sum[at].Exponent) + (sign * exponent);
            if (at >= 0)
            {
                sum.RemoveAt(at);
            }

            if (together != 0)
            {
                var after = 0;
                while (after < sum.Count && string.CompareOrdinal(sum[after].Base, name) < 0)
                {
                    after++;
                }

                sum.Insert(after, new Power(name, together));
            }
        }

        return sum;
    }

    private static int IndexOf(List<Power> powers, string name)
    {
        for (var i = 0; i < powers.Count; i++)
        {
            if (powers[i].Base == name)
            {
                return i;
            }
        }

        return -1;
    }

    private static string Join(string left, string right, string sign)
    {
        if (right.Length == 0)
        {
            return left;
        }

        return left.Length == 0 && sign == "." ? right : left + sign + right;
    }

    private sealed record Power(string Base, int Exponent)
    {
        public override string ToString() =>
            Exponent == 1 ? Base : Base + Exponent.ToString(CultureInfo.InvariantCulture);
    }
}
