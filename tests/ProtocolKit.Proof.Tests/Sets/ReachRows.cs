using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Tests.Sets;

/// <summary>All rows some lines take together, in order, to hold one way of working them out against another.</summary>
internal static class ReachRows
{
    /// <summary>As sets, without records.</summary>
    public static List<string> OfSets(Questions questions, Part part, int[] lines) =>
        Of(questions, part, lines, differing: int.MaxValue);

    /// <summary>Record by record, without guesses: more may differ than there are answers.</summary>
    public static List<string> OfRecords(Questions questions, Part part, int[] lines) =>
        Of(questions, part, lines, differing: 10_000);

    private static List<string> Of(Questions questions, Part part, int[] lines, int differing)
    {
        var reach = new Reach(
            questions.GraphOf(part),
            questions.Space(part),
            [.. lines.Select(l => questions.Line(part, l))],
            questions.Related(part),
            differing: differing,
            orRecords: false
        );
        return
        [
            .. Enumerable
                .Range(0, reach.Count)
                .Select(r => string.Join(' ', lines.Select((_, i) => reach.Value(r, i))))
                .Order(StringComparer.Ordinal),
        ];
    }
}
