using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>Two examiners' records of the same sittings.</summary>
internal sealed record RaterPair(
    string First,
    string Second,
    IReadOnlyList<(StudySitting First, StudySitting Second)> Sittings
);

/// <summary>Finds sittings that more than one examiner rated.</summary>
internal sealed class RaterPairs
{
    private RaterPairs(
        IReadOnlyList<string> raters,
        IReadOnlyList<IReadOnlyDictionary<string, StudySitting>> sittings
    )
    {
        (Raters, Sittings) = (raters, sittings);
        Pairs =
        [
            .. raters
                .SelectMany((a, i) => raters.Skip(i + 1).Select(b => Pair(a, b)))
                .Where(p => p.Sittings.Count > 1)
                .OrderByDescending(p => p.Sittings.Count),
        ];
    }

    /// <summary>Codes of all examiners who share a sitting with another, sorted.</summary>
    public IReadOnlyList<string> Raters { get; }

    /// <summary>Shared sittings, each with its records by rater.</summary>
    public IReadOnlyList<IReadOnlyDictionary<string, StudySitting>> Sittings { get; }

    /// <summary>The pair with the most sittings in common first.</summary>
    public IReadOnlyList<RaterPair> Pairs { get; }

    /// <exception cref="StudyRefusedException">No two examiners share two sittings.</exception>
    public static RaterPairs Of(StudyData data)
    {
        var named = data.Sittings.Where(s => s.Rater.Length > 0).ToList();
        var raters = named.Select(s => s.Rater).Distinct().Order(StringComparer.Ordinal).ToList();
        Refuse(
            raters.Count == 0,
            "None of these records names its rater, so nobody knows who agrees with whom. Give each record a rater code."
        );
        Refuse(
            raters.Count == 1,
            $"Agreement needs the same sittings rated by two or more examiners, and all {named.Count} records are by {string.Concat(raters)}. "
                + "Let a second examiner rate some of the sittings independently, for example from recordings."
        );
        var shared = named
            .GroupBy(s => (s.Case, s.Seen))
            .Where(g => g.Count() > 1)
            .Select(g =>
                (IReadOnlyDictionary<string, StudySitting>)
                    g.ToDictionary(s => s.Rater, s => s, StringComparer.Ordinal)
            )
            .ToList();
        Refuse(
            shared.Count < 2,
            $"There are {raters.Count} raters ({string.Join(", ", raters)}), but "
                + (shared.Count == 0 ? "no sitting" : "only one sitting")
                + " that two of them rated. Agreement needs several sittings with two records each: the same case and day, two raters."
        );
        var together = raters.Where(r => shared.Any(s => s.ContainsKey(r))).ToList();
        var pairs = new RaterPairs(together, shared);
        Refuse(
            pairs.Pairs.Count == 0,
            "No two raters share more than one sitting, so agreement can't be told from chance. Let the same two rate several."
        );
        return pairs;
    }

    private RaterPair Pair(string a, string b) =>
        new(a, b, [.. Sittings.Where(s => s.ContainsKey(a) && s.ContainsKey(b)).Select(s => (s[a], s[b]))]);

    private static void Refuse(bool when, string why)
    {
        if (when)
        {
            throw new StudyRefusedException(why);
        }
    }
}
