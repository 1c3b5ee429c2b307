using System.Collections.Concurrent;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Values that were worked out, by the shape of the question: those who ask beside one another, each in a graph of its own, share them.
/// </summary>
internal sealed class KnownValues
{
    private readonly Lock _naming = new();
    private readonly QuestionShapes _shapes = new();
    private readonly ConcurrentDictionary<string, Lazy<List<long[]>>> _values = new(StringComparer.Ordinal);

    /// <exception cref="ProofLimitException">A part has too many rows to list.</exception>
    public string NameOf(Space space, IReadOnlyList<Node> roots)
    {
        lock (_naming)
        {
            return _shapes.Of(space, roots, isFilled: false).Name;
        }
    }

    /// <exception cref="ProofLimitException">As the first who asked it was told.</exception>
    public List<long[]> Of(string name, Func<List<long[]>> ask) =>
        _values.GetOrAdd(name, _ => new Lazy<List<long[]>>(ask)).Value;
}
