using System.Globalization;
using ProtocolKit.Calibration.Agreement;
using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>From exact values to figures, and from figures to cells of a report.</summary>
internal static class Figures
{
    public const string NotDefined = "not defined";

    public static double ToDouble(Rational value) => (double)value.Numerator / (double)value.Denominator;

    /// <summary>How many decimals a step needs: 0 for 1, 1 for 0.1.</summary>
    public static int Decimals(Rational? step)
    {
        var decimals = 0;
        var rest = step ?? new Rational(1, 100);
        while (!rest.IsInteger && decimals < 6)
        {
            rest *= 10;
            decimals++;
        }

        return decimals;
    }

    /// <summary>A result, or null where the data don't hold it.</summary>
    public static T? OrNull<T>(Func<T> compute)
        where T : class
    {
        try
        {
            return compute();
        }
        catch (Exception e) when (IsNoFigure(e))
        {
            return null;
        }
    }

    /// <summary>A figure, or null where the data don't hold it.</summary>
    public static double? NumberOrNull(Func<double?> compute)
    {
        try
        {
            return compute() is { } value && double.IsFinite(value) ? value : null;
        }
        catch (Exception e) when (IsNoFigure(e))
        {
            return null;
        }
    }

    /// <summary>Too little data, or numbers so odd that a search for a limit doesn't end: either way there is no figure.</summary>
    private static bool IsNoFigure(Exception e) =>
        e is NotEstimableException or ArithmeticException or MathNet.Numerics.NonConvergenceException;

    public static EvidenceCell Between(Interval? interval, int decimals = 2) =>
        interval is { } i ? EvidenceCell.Between(i.Low, i.High, decimals) : EvidenceCell.Of(NotDefined);

    /// <summary>A kappa's interval; none where its error is 0, since a large-sample interval of no width would mislead.</summary>
    public static EvidenceCell OfKappa(KappaResult? kappa) =>
        kappa is { StandardError: > 1e-6 }
            ? Between(kappa.Interval.Within(-1, 1))
            : EvidenceCell.Of(NotDefined);

    public static string Number(double value, int decimals = 2) => EvidenceCell.Figure(value, decimals);

    /// <summary>As short as it can be said: 10, not 10.0.</summary>
    public static string Plain(double value) =>
        Math.Round(value, 3).ToString("0.###", CultureInfo.InvariantCulture);

    public static string Count(int count, string one, string many) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many)}");

    public static string Percent(double confidence) => Number(confidence * 100, 0) + " %";

    public static EvidenceColumn Column(string name, string title) => new(name, title);

    public static EvidenceColumn IntervalColumn(string name, string title) => new(name, title, true);

    public static EvidenceFact Fact(string name, string text) => new(name, text);

    public static EvidenceFact Fact(string name, int count) =>
        new(name, count.ToString(CultureInfo.InvariantCulture));
}
