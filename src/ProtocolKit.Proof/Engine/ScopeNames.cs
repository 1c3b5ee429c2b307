using System.Globalization;

namespace ProtocolKit.Proof.Engine;

/// <summary>
/// Names scopes by what is worked out in them: those that join the same parts, keep to the same conditions and hand on the same values
/// come to the same result, in this question or a later one of the same graph.
/// </summary>
/// <param name="mark">What else the result depends on.</param>
/// <param name="shorten">A short name for a long text, the same for the same one; null: the text itself.</param>
/// <param name="polarity">What is asked for, where rows are kept for its sake alone.</param>
internal sealed class ScopeNames(
    IReadOnlySet<Node> conditions,
    string mark = "",
    Func<string, string>? shorten = null,
    Polarity? polarity = null
)
{
    private readonly Dictionary<Scope, string> _names = [];

    /// <summary>Scopes are named from the leaves up.</summary>
    public string Of(Scope scope)
    {
        var parts =
            scope.Leaf >= 0
                ? scope.Leaf.ToString(CultureInfo.InvariantCulture) + mark
                : string.Join(' ', scope.Children.Select(c => _names[c]));
        var tests = scope.Values.Select(v => v.Node).Where(conditions.Contains).Select(n => n.Id);
        var text = $"({parts}:{string.Join(',', scope.Outputs.Select(Output))};{string.Join(',', tests)})";
        return _names[scope] = shorten?.Invoke(text) ?? text;
    }

    private string Output(Node node) =>
        polarity is null
            ? node.Id.ToString(CultureInfo.InvariantCulture)
            : string.Create(CultureInfo.InvariantCulture, $"{node.Id}/{(int)polarity.Of(node)}");
}
