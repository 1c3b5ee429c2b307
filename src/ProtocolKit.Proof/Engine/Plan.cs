namespace ProtocolKit.Proof.Engine;

/// <summary>Which value is worked out where: the scopes know it.</summary>
/// <param name="Roots">What is asked for.</param>
/// <param name="Conditions">What must hold; rows for which one fails are dropped.</param>
internal sealed record Plan(Scope Root, IReadOnlyList<Node> Roots, IReadOnlyList<Node> Conditions);
