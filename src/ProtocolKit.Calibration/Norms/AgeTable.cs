namespace ProtocolKit.Calibration.Norms;

/// <summary>A value by age, read with straight lines between the ages of a table.</summary>
public static class AgeTable
{
    /// <summary>Ages ascending; outside the table there is no value.</summary>
    public static double At(IReadOnlyList<double> ages, IReadOnlyList<double> values, double age)
    {
        Require.SameLength(ages.Count, values.Count, "Ages and values");
        Require.That(ages.Count > 0 && age >= ages[0] && age <= ages[^1], "The age lies outside the table.");
        for (var i = 0; i < ages.Count; i++)
        {
            if (ages[i] == age)
            {
                return values[i];
            }

            if (ages[i] > age)
            {
                var share = (age - ages[i - 1]) / (ages[i] - ages[i - 1]);
                return values[i - 1] + (share * (values[i] - values[i - 1]));
            }
        }

        return values[^1];
    }
}
