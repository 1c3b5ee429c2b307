using System.Globalization;

namespace ProtocolKit.Calibration;

/// <summary>Conditions that every method asks of its data, each with the sentence a reader gets when it fails.</summary>
internal static class Require
{
    public static void That(bool condition, string otherwise)
    {
        if (!condition)
        {
            throw new NotEstimableException(otherwise);
        }
    }

    public static void Level(double confidence) =>
        That(
            confidence is > 0 and < 1,
            string.Create(
                CultureInfo.InvariantCulture,
                $"A confidence level lies between 0 and 1, such as 0.95; {confidence} was given."
            )
        );

    public static void AtLeast(int count, int needed, string what) =>
        That(
            count >= needed,
            string.Create(CultureInfo.InvariantCulture, $"{what}: {count} given, at least {needed} needed.")
        );

    public static void SameLength(int first, int second, string what) =>
        That(
            first == second,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{what}: the two lists have {first} and {second} entries, they must be as long as each other."
            )
        );

    public static void Finite(IEnumerable<double> values, string what) =>
        That(values.All(double.IsFinite), $"{what}: a value is missing or no number.");
}
