using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Analysis;

/// <summary>How many different sheets a child of one age can come away with, in the full form.</summary>
internal static class RecordCounts
{
    public static RecordCount? Of(ProofResults results)
    {
        RecordCount? count = null;
        results.Try(
            "The number of records",
            Origin.None,
            () => count = new RecordCount(One(results, untried: false), One(results, untried: true))
        );
        return count;
    }

    private static BigInteger One(ProofResults results, bool untried)
    {
        var part = new Part(results.Ages[0], 0, untried);
        var graph = results.Questions.GraphOf(part);
        return new Reach(graph, results.Questions.Space(part), [graph.One], [], counts: true).Ways(0);
    }
}
