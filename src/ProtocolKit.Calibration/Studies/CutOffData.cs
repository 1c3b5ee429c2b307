using ProtocolKit.Calibration.Accuracy;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>One child of a cut-off study: a value, and what the reference judgement says.</summary>
internal sealed record JudgedChild(Age Age, double Value, bool IsCase, bool? IsBorderline);

/// <summary>A score's values of all children with a reference judgement, each child once.</summary>
internal sealed class CutOffData
{
    private readonly IReadOnlyList<StudySitting> _children;

    private CutOffData(
        Outcome outcome,
        CutOffTable? table,
        bool lowIsWorse,
        IReadOnlyList<StudySitting> children
    )
    {
        (Outcome, Table, LowIsWorse, _children) = (outcome, table, lowIsWorse, children);
        Judged =
        [
            .. children
                .Where(s => s.Reference.IsCase is not null)
                .Select(s => (Sitting: s, Value: ScoreValues.Exact(s, outcome)))
                .Where(s => s.Value is not null)
                .Select(s => new JudgedChild(
                    s.Sitting.Scored.Age,
                    s.Value!.Value,
                    s.Sitting.Reference.IsCase!.Value,
                    s.Sitting.Reference.IsBorderline
                )),
        ];
    }

    public Outcome Outcome { get; }

    /// <summary>The protocol's table as it stands; null where it has none.</summary>
    public CutOffTable? Table { get; }
    public bool LowIsWorse { get; }
    public IReadOnlyList<JudgedChild> Judged { get; }

    /// <summary>Judged children whose value untried answers leave open.</summary>
    public int Open => _children.Count(s => s.Reference.IsCase is not null) - Judged.Count;

    public int Cases => Judged.Count(c => c.IsCase);

    public int Others => Judged.Count - Cases;

    public CaseDirection Direction => LowIsWorse ? CaseDirection.Lower : CaseDirection.Higher;

    public static CutOffData Of(Protocol protocol, Outcome outcome, IReadOnlyList<StudySitting> children) =>
        new(
            outcome,
            ScoreValues.TableOf(protocol, outcome),
            ScoreValues.LowIsWorse(protocol, outcome) ?? true,
            children
        );

    /// <summary>Null where there are no cases or nobody but cases.</summary>
    public RocCurve? Curve(Func<JudgedChild, bool>? which = null)
    {
        var chosen = Judged.Where(which ?? (_ => true)).ToList();
        return Figures.OrNull(() =>
            RocCurve.Of(
                [.. chosen.Where(c => c.IsCase).Select(c => c.Value)],
                [.. chosen.Where(c => !c.IsCase).Select(c => c.Value)],
                Direction
            )
        );
    }

    /// <summary>
    /// The last value on the worse side of a threshold, on the score's step: everything up to it (or from it on, where
    /// high values are worse) is positive.
    /// </summary>
    public Rational LastPositive(double threshold)
    {
        var step = Outcome.Step ?? Rational.One;
        var size = Figures.ToDouble(step);
        var steps = LowIsWorse
            ? Math.Ceiling((threshold / size) - 1e-9) - 1
            : Math.Floor((threshold / size) + 1e-9) + 1;
        return step * (long)steps;
    }

    /// <summary>How a cut is said: <c>7 or less</c>.</summary>
    public string Words(double threshold) =>
        double.IsNegativeInfinity(threshold) ? (LowIsWorse ? "nobody" : "everybody")
        : double.IsPositiveInfinity(threshold) ? (LowIsWorse ? "everybody" : "nobody")
        : $"{LastPositive(threshold)} or {(LowIsWorse ? "less" : "more")}";
}
