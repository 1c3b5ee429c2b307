using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Which way values go between two sheets that may give different tasks. A value that reads answers of a routed task only where it is
/// given is looked at as if both sheets gave it; any other as if those answers might do anything.
/// </summary>
internal sealed class RoutedDirections
{
    private readonly Directions _any;
    private readonly Directions _given;
    private readonly GuardedReads _reads;
    private readonly LeafSet _routed;

    /// <param name="whole">What is known of a value that is kept whole, and whether it is looked at as if both sheets gave its tasks.</param>
    public RoutedDirections(PairSpace space, Func<Node, Directions, bool, Way?> whole)
    {
        var guards = space.First.Routed.Where(r => !r.Given.IsConstant).ToList();
        _reads = new GuardedReads(space.First, guards.Select(g => (g.Given, g.Parts.AsEnumerable())));
        _routed = new LeafSet(space.PartCount);
        foreach (var part in guards.SelectMany(g => g.Parts))
        {
            _routed.Add(part);
        }

        _any = Of(isGiven: false);
        _given = Of(isGiven: true);

        Directions Of(bool isGiven)
        {
            Directions? own = null;
            own = new Directions(
                f => space.WayOf(f, isGiven),
                (f, value) => space.WayWhereIs(f, value, isGiven),
                node => whole(node, own!, isGiven)
            );
            return own;
        }
    }

    public Way Of(Node node) => (_reads.Of(node).Overlaps(_routed) ? _any : _given).Of(node);
}
