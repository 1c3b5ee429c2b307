using System.Text.Json.Nodes;
using ProtocolKit.Calibration;
using ProtocolKit.Calibration.Agreement;

namespace ProtocolKit.Cases;

/// <summary>Weights for kappa and Gwet's coefficients: of a known kind, or agreement weights a case brings with it.</summary>
internal sealed class CaseWeights
{
    private readonly WeightKind _kind;
    private readonly double[][]? _own;

    private CaseWeights(WeightKind kind, double[][]? own) => (_kind, _own) = (kind, own);

    public bool IsIdentity => _own is null && _kind == WeightKind.Identity;

    public bool Fits(int categories) => _own is null || _own.Length == categories;

    /// <exception cref="NotEstimableException">A name nothing here knows.</exception>
    public static CaseWeights Of(JsonNode? node, WeightKind otherwise) =>
        node is null ? new CaseWeights(otherwise, null)
        : Input.IsTable(node) ? new CaseWeights(otherwise, Input.Table(node, "weights"))
        : new CaseWeights(Kind(node.ToString()), null);

    public double[,] For(IReadOnlyList<double> levels)
    {
        if (!Fits(levels.Count))
        {
            throw new NotEstimableException("There must be one weight for each pair of categories.");
        }

        return _own is null ? AgreementWeights.For(_kind, levels) : AgreementWeights.FromTable(_own);
    }

    private static WeightKind Kind(string name) =>
        Enum.TryParse<WeightKind>(name, true, out var kind) && Enum.IsDefined(kind) ? kind
        : name.ToLowerInvariant() is "unweighted" or "none" ? WeightKind.Identity
        : name.ToLowerInvariant() is "squared" ? WeightKind.Quadratic
        : name.ToLowerInvariant() is "equal" ? WeightKind.Linear
        : throw new NotEstimableException(
            $"Weights called \"{name}\" are not known; known are {string.Join(", ", Enum.GetNames<WeightKind>()).ToLowerInvariant()}, or a table."
        );
}
