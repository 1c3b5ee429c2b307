using ProtocolKit.Calibration.Accuracy;

namespace ProtocolKit.Calibration.Agreement;

/// <summary>
/// What stands beside a kappa of two categories so that its paradoxes show: prevalence and bias, agreement on each
/// side, and kappa adjusted for both. Sources: Byrt T, Bishop J, Carlin JB (1993) J Clin Epidemiol 46:423-429;
/// Cicchetti DV, Feinstein AR (1990) J Clin Epidemiol 43:551-558.
/// </summary>
public static class AgreementIndices
{
    /// <summary>(a − d) / n of a 2 × 2 table: far from 0 where one category is rare.</summary>
    public static double PrevalenceIndex(AgreementTable table) =>
        (Cell(table, 0, 0) - table[1, 1]) / table.Total;

    /// <summary>(b − c) / n of a 2 × 2 table: far from 0 where one rater says the first category more often.</summary>
    public static double BiasIndex(AgreementTable table) => (Cell(table, 0, 1) - table[1, 0]) / table.Total;

    /// <summary>2a / (2a + b + c) of a 2 × 2 table for position 0, likewise for position 1; null where nobody chose it.</summary>
    public static double? SpecificAgreement(AgreementTable table, int category)
    {
        var both = table.RowTotal(category) + table.ColumnTotal(category);
        return both > 0 ? 2 * table[category, category] / both : null;
    }

    /// <summary>Prevalence- and bias-adjusted kappa: (k po − 1) / (k − 1) for k categories; also Brennan and Prediger's coefficient.</summary>
    public static double Pabak(AgreementTable table) => Pabak(table.PercentAgreement, table.Size);

    /// <summary>The interval of PABAK from the exact interval of the observed agreement.</summary>
    public static Interval PabakInterval(AgreementTable table, double confidence = 0.95)
    {
        var agreed = table.PercentAgreement * table.Total;
        return ProportionIntervals
            .ClopperPearson(Math.Round(agreed), table.Total, confidence)
            .Map(p => Pabak(p, table.Size));
    }

    private static double Pabak(double observed, int categories) =>
        ((categories * observed) - 1) / (categories - 1);

    private static double Cell(AgreementTable table, int row, int column)
    {
        Require.That(table.Size == 2, "This index is defined for two categories only.");
        return table[row, column];
    }
}
