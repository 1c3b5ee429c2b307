using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Calibration.Generalizability;

/// <summary>Variance components of a crossed design, as estimated (they may be negative) and cut at zero.</summary>
public sealed record Component(string Name, int Df, double SumOfSquares, double MeanSquare, double Raw)
{
    public double Variance => Math.Max(0, Raw);
}

/// <summary>What a design of a certain size would give.</summary>
/// <param name="Relative">Error variance for comparing persons (δ).</param>
/// <param name="Absolute">Error variance for levels and cut-offs (Δ).</param>
public sealed record DecisionStudy(double Persons, double Relative, double Absolute)
{
    /// <summary>Eρ², the generalizability coefficient; null where nothing varies.</summary>
    public double? Generalizability => Persons + Relative > 0 ? Persons / (Persons + Relative) : null;

    /// <summary>Φ, the index of dependability; null where nothing varies.</summary>
    public double? Dependability => Persons + Absolute > 0 ? Persons / (Persons + Absolute) : null;

    public double AbsoluteError => Math.Sqrt(Absolute);
}

/// <summary>
/// Persons × items (or × raters): Cronbach LJ and others (1972); Brennan RL (2001) Generalizability Theory. Complete
/// data, random effects, components from mean squares. Negative components are reported as they are and count as 0.
/// </summary>
public sealed class PersonByItem
{
    private readonly int _persons;
    private readonly int _items;

    private PersonByItem(RatingAnova anova)
    {
        (_persons, _items) = (anova.Targets, anova.Judges);
        GrandMean = anova.GrandMean;
        var error = anova.MeanError;
        Person = new Component(
            "p",
            _persons - 1,
            anova.SumBetween,
            anova.MeanBetween,
            (anova.MeanBetween - error) / _items
        );
        Item = new Component(
            "i",
            _items - 1,
            anova.SumJudges,
            anova.MeanJudges,
            (anova.MeanJudges - error) / _persons
        );
        Residual = new Component("pi,e", (_persons - 1) * (_items - 1), anova.SumError, error, error);
    }

    public Component Person { get; }

    public Component Item { get; }

    public Component Residual { get; }

    public double GrandMean { get; }

    /// <summary>Error variance of the grand mean over persons and items, from the components as estimated.</summary>
    public double GrandMeanVariance =>
        (Person.Raw / _persons) + (Item.Raw / _items) + (Residual.Raw / (_persons * (double)_items));

    /// <summary>A row each person, a column each item or rater.</summary>
    public static PersonByItem Of(RatingMatrix scores) => new(IntraclassCorrelation.Anova(scores));

    /// <summary>The same with <paramref name="items"/> items or raters a person.</summary>
    public DecisionStudy Decide(double items)
    {
        Require.That(items > 0, "A design needs at least one item or rater.");
        var relative = Residual.Variance / items;
        return new DecisionStudy(Person.Variance, relative, relative + (Item.Variance / items));
    }

    /// <summary>Φ(λ), dependability of being above or below λ: (σ²p + (μ − λ)²) / (the same + Δ).</summary>
    public double PhiLambda(double items, double lambda) =>
        PhiLambda(items, Math.Pow(GrandMean - lambda, 2), 0);

    /// <summary>Φ(λ) with the squared distance freed of the grand mean's error (Brennan 2001, equation 2.54).</summary>
    public double PhiLambdaUnbiased(double items, double lambda) =>
        PhiLambda(items, Math.Pow(GrandMean - lambda, 2), GrandMeanVariance);

    /// <summary>The least number of items or raters whose coefficient reaches a target; null if none up to 1000 does.</summary>
    public int? Needed(double target, bool absolute = true)
    {
        Require.That(target is > 0 and < 1, "A target lies between 0 and 1.");
        for (var items = 1; items <= 1000; items++)
        {
            var study = Decide(items);
            if ((absolute ? study.Dependability : study.Generalizability) >= target)
            {
                return items;
            }
        }

        return null;
    }

    private double PhiLambda(double items, double distance, double bias)
    {
        var study = Decide(items);
        var signal = study.Persons + distance - bias;
        Require.That(signal + study.Absolute > 0, "Phi(lambda) can't be computed: nothing varies.");
        return signal / (signal + study.Absolute);
    }
}
