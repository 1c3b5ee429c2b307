using System.Globalization;

namespace ProtocolKit.Cli.Commands;

/// <summary>Reads a clinic's own weights for kappa: <c>1 0.5 0; 0.5 1 0.5; 0 0.5 1</c>, rows from the lowest level.</summary>
internal static class KappaWeights
{
    private const string Example = "such as \"1 0.5 0; 0.5 1 0.5; 0 0.5 1\" for three levels";

    /// <summary>The weights and nothing, or nothing and what is wrong. No text means no weights.</summary>
    public static (IReadOnlyList<IReadOnlyList<double>> Weights, string? Wrong) Read(string? text)
    {
        if (text is null)
        {
            return ([], null);
        }

        var rows = text.Split(';', StringSplitOptions.RemoveEmptyEntries).Select(Row).ToList();
        if (rows.Any(r => r.Contains(null)))
        {
            return ([], $"--weights takes numbers only, {Example}.");
        }

        List<IReadOnlyList<double>> weights =
        [
            .. rows.Select(r => (IReadOnlyList<double>)[.. r.OfType<double>()]),
        ];
        return Fault(weights) is { } fault ? ([], $"--weights {fault}, {Example}.") : (weights, null);
    }

    private static string? Fault(List<IReadOnlyList<double>> weights) =>
        weights.Count < 2 || weights.Any(r => r.Count != weights.Count)
            ? "needs as many numbers in each row as there are rows"
        : weights.Any(r => r.Any(w => w is < 0 or > 1))
            ? "takes numbers from 0 (no agreement at all) to 1 (the same)"
        : Enumerable.Range(0, weights.Count).Any(i => weights[i][i] != 1)
            ? "gives 1 to the same level, in the diagonal"
        : weights.SelectMany(r => r).All(w => w == 1) ? "tells no level from another"
        : null;

    private static List<double?> Row(string text) =>
        [
            .. text.Split((char[])[' ', ','], StringSplitOptions.RemoveEmptyEntries)
                .Select(t =>
                    double.TryParse(t, NumberStyles.Float, CultureInfo.InvariantCulture, out var w)
                    && double.IsFinite(w)
                        ? w
                        : (double?)null
                ),
        ];
}
