namespace ProtocolKit.Calibration.Generalizability;

/// <summary>A facet of a design: its letter, how many levels it has (within each level of what it is nested in), and those letters.</summary>
public sealed record Facet(char Letter, int Levels, string NestedIn = "");

/// <summary>
/// Variance components of any balanced, complete, random design: crossed as p × i × r × o, nested as p × (r:t) or i:p.
/// Sums of squares and the equations of expected mean squares follow from which effects hold which indices: Cornfield J, Tukey
/// JW (1956) Annals of Mathematical Statistics 27:907-949; Brennan RL (2001) Generalizability Theory, chapters 3 and 5
/// and appendix A. The first facet is the object of measurement.
/// </summary>
public sealed class BalancedDesign
{
    private readonly Facet[] _facets;
    private readonly Effect[] _effects; // ascending by number of indices
    private readonly double _cells;

    private BalancedDesign(Facet[] facets, double[] values)
    {
        _facets = facets;
        _cells = values.Length;
        GrandMean = values.Average();
        _effects = [.. Sets().OrderBy(int.PopCount).ThenBy(s => s).Select(s => new Effect(s))];
        foreach (var effect in _effects)
        {
            Square(effect, values);
        }

        foreach (var effect in _effects.Reverse())
        {
            var above = _effects.Where(e => e.Set != effect.Set && (e.Set & effect.Set) == effect.Set);
            effect.Variance =
                (effect.MeanSquare - above.Sum(e => Repeats(e.Set) * e.Variance)) / Repeats(effect.Set);
        }
    }

    /// <summary>Effects by size: p, t, r:t, pt, pr:t. The last one holds the residual.</summary>
    public IReadOnlyList<Component> Components =>
        [.. _effects.Select(e => new Component(Name(e.Set), e.Df, e.Squares, e.MeanSquare, e.Variance))];

    public double GrandMean { get; }

    /// <summary>Values in the order of the facets, the last one fastest; every cell filled.</summary>
    /// <exception cref="NotEstimableException">Cells missing, fewer than two levels, a facet nested in what is not there.</exception>
    public static BalancedDesign Of(IReadOnlyList<Facet> facets, IReadOnlyList<double> values)
    {
        Require.AtLeast(facets.Count, 2, "Facets of a design, persons among them");
        foreach (var facet in facets)
        {
            Require.AtLeast(facet.Levels, 2, $"Levels of {facet.Letter}");
            Require.That(
                facet.NestedIn.All(n => facets.Any(f => f.Letter == n && f != facet)),
                $"{facet.Letter} is nested in what the design doesn't hold."
            );
        }

        Require.That(
            values.Count == facets.Aggregate(1L, (n, f) => n * f.Levels),
            "A balanced design needs a score in every cell; this one has gaps or too many."
        );
        Require.Finite(values, "Scores");
        return new BalancedDesign([.. facets], [.. values]);
    }

    /// <summary>A design of these sizes, by letter; facets that aren't named keep the size they have.</summary>
    public DecisionStudy Decide(IReadOnlyDictionary<char, double> sizes)
    {
        var (relative, absolute, persons) = (0.0, 0.0, 0.0);
        foreach (var effect in _effects)
        {
            var divisor = Members(effect.Set)
                .Where(f => f != _facets[0])
                .Aggregate(1.0, (n, f) => n * sizes.GetValueOrDefault(f.Letter, f.Levels));
            Require.That(divisor > 0, "A design needs at least one level of each facet.");
            var part = Math.Max(0, effect.Variance) / divisor;
            persons += effect.Set == 1 ? part : 0;
            relative += effect.Set != 1 && (effect.Set & 1) == 1 ? part : 0;
            absolute += effect.Set != 1 ? part : 0;
        }

        return new DecisionStudy(persons, relative, absolute);
    }

    /// <summary>All sets of facets that hold, with a facet, those it is nested in.</summary>
    private IEnumerable<int> Sets() =>
        Enumerable
            .Range(1, (1 << _facets.Length) - 1)
            .Where(set => Members(set).All(f => f.NestedIn.All(n => Members(set).Any(m => m.Letter == n))));

    private IEnumerable<Facet> Members(int set) => _facets.Where((_, i) => (set >> i & 1) == 1);

    /// <summary>How many cells a mean of this effect is taken over.</summary>
    private double Repeats(int set) => _cells / Members(set).Aggregate(1.0, (n, f) => n * f.Levels);

    /// <summary>What nothing in the set is nested under comes first: pr:t.</summary>
    private string Name(int set)
    {
        var members = Members(set).ToList();
        var nests = members.Where(m =>
            members.Any(f => f.NestedIn.Contains(m.Letter, StringComparison.Ordinal))
        );
        var first = string.Concat(members.Except(nests).Select(f => f.Letter));
        return nests.Any() ? $"{first}:{string.Concat(nests.Select(f => f.Letter))}" : first;
    }

    /// <summary>Squares of the effect's means less those of every smaller effect inside it; degrees of freedom likewise.</summary>
    private void Square(Effect effect, double[] values)
    {
        var levels = _facets.Select((f, i) => (effect.Set >> i & 1) == 1 ? f.Levels : 1).ToArray();
        var sums = new double[levels.Aggregate(1, (n, l) => n * l)];
        for (var cell = 0; cell < values.Length; cell++)
        {
            var (rest, at, stride) = (cell, 0, 1);
            for (var f = _facets.Length - 1; f >= 0; f--)
            {
                (rest, var level) = Math.DivRem(rest, _facets[f].Levels);
                at += (effect.Set >> f & 1) == 1 ? level * stride : 0;
                stride *= levels[f];
            }

            sums[at] += values[cell] - GrandMean;
        }

        var inside = _effects.Where(e => e.Set != effect.Set && (e.Set & effect.Set) == e.Set).ToList();
        var total = sums.Sum(s => s * s) / Repeats(effect.Set);
        var squares = total - inside.Sum(e => e.Squares);
        effect.Squares = Math.Abs(squares) <= total * 1e-14 ? 0 : squares;
        effect.Df = sums.Length - 1 - inside.Sum(e => e.Df);
    }

    private sealed class Effect(int set)
    {
        public int Set { get; } = set;

        public int Df { get; set; }

        public double Squares { get; set; }

        public double Variance { get; set; }

        public double MeanSquare => Squares / Df;
    }
}
