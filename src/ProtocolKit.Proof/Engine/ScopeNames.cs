using System.Globalization;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Names scopes by what is worked out in them: those that join the same parts, keep to the same conditions and hand on the same values
/// come to the same result, in this question or a later one of the same graph.
/// </summary>
internal sealed class ScopeNames(IReadOnlySet<Node> conditions)
{
    private readonly Dictionary<Scope, string> _names = [];

    /// <summary>Scopes are named from the leaves up.</summary>
    public string Of(Scope scope)
    {
        var parts =
            scope.Leaf >= 0
                ? scope.Leaf.ToString(CultureInfo.InvariantCulture)
                : string.Join(' ', scope.Children.Select(c => _names[c]));
        var tests = scope.Values.Select(v => v.Node).Where(conditions.Contains).Select(n => n.Id);
        var outputs = scope.Outputs.Select(n => n.Id);
        return _names[scope] = $"({parts}:{string.Join(',', outputs)};{string.Join(',', tests)})";
    }
}
