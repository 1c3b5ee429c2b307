using System.Globalization;
using System.Text.RegularExpressions;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>What a condition on bands came to: the bands that make it hold, and those that leave it open.</summary>
internal sealed record BandReason(
    bool Holds,
    IReadOnlyList<BandResult> Bands,
    IReadOnlyList<BandResult> Open
);

/// <summary>
/// Reads the conditions that speak of bands (<c>any band is look-further</c>) to name the bands behind an action.
/// Whether the action applies was decided by the core program: this only finds the words.
/// </summary>
internal sealed partial class BandReasons(ScoredRecord scored)
{
    private const int MostNames = 5;

    private readonly List<BandResult> _bands =
    [
        .. scored.Bands.Where(b => b.Table.ShortForm == scored.Record.IsShortForm),
    ];

    /// <summary>Nothing for a condition of another kind.</summary>
    public BandReason? Read(string condition)
    {
        if (Count().Match(condition) is { Success: true } count)
        {
            var needed = count.Groups["n"].Success
                ? int.Parse(count.Groups["n"].Value, CultureInfo.InvariantCulture)
                : 1;
            return Judge(_bands, count.Groups["what"].Value, needed);
        }

        if (One().Match(condition) is { Success: true } one)
        {
            var name = one.Groups["name"].Value;
            var bands = _bands.Where(b => b.Table.Outcome.Name == name).ToList();
            return bands.Count == 0 ? null : Judge(bands, one.Groups["what"].Value, 1);
        }

        return null;
    }

    /// <summary><c>the bands of Jaw and Lips are "look further" and the band of Tongue is undecided</c>.</summary>
    public string Say(IEnumerable<BandResult> bands)
    {
        var groups = bands
            .Distinct()
            .OrderBy(b => _bands.IndexOf(b))
            .GroupBy(Word)
            .Select(g =>
                Group(
                    g.Key,
                    [.. g.OrderBy(b => b.Table.Outcome.IsScore ? 0 : 1).Select(b => b.Table.Outcome.Title)]
                )
            );
        return ProtocolKit.Scoring.Say.List(groups);
    }

    private static string Group(string word, List<string> names)
    {
        if (names.Count == 1)
        {
            return $"the band of {names[0]} is {word}";
        }

        var shown =
            names.Count > MostNames
                ? names.Take(MostNames - 1).Append($"{names.Count - MostNames + 1} more")
                : names;
        return $"the bands of {ProtocolKit.Scoring.Say.List(shown)} are {word}";
    }

    private static string Word(BandResult band) =>
        band.State switch
        {
            BandState.Known => $"\"{BandSentences.Name(band.Band!)}\""
                + (band.Table.Basis.IsProvisional ? " (provisional)" : ""),
            BandState.Undecided => "undecided",
            BandState.Blocked => "blocked",
            BandState.NotApplicable => "not applicable",
            _ => "missing from the cut-offs",
        };

    private static BandReason? Judge(List<BandResult> bands, string what, int needed)
    {
        var matching = bands.Where(b => Matches(b, what)).ToList();
        var isOfState =
            what.Contains("undecided", StringComparison.Ordinal)
            || what.Contains("blocked", StringComparison.Ordinal)
            || what.Contains("not applicable", StringComparison.Ordinal);
        var open = isOfState
            ? []
            : bands
                .Where(b => b.State is BandState.Undecided or BandState.Blocked or BandState.NoBand)
                .ToList();
        var holds = matching.Count >= needed;
        return new BandReason(holds, matching, !holds && matching.Count + open.Count >= needed ? open : []);
    }

    private static bool Matches(BandResult band, string what)
    {
        var state = band.State switch
        {
            BandState.Undecided => "undecided",
            BandState.Blocked => "blocked",
            BandState.NotApplicable => "not applicable",
            _ => "",
        };
        if (state.Length > 0)
        {
            return what.Split(" or ").Contains(state);
        }

        var words = what.Split(" or ");
        var named = band.Table.Bands.Select(b => b.Name).ToList().IndexOf(words[0]);
        var own = band.Band is null
            ? -1
            : band.Table.Bands.Select(b => b.Name).ToList().IndexOf(band.Band.Name);
        if (named < 0 || own < 0)
        {
            return false;
        }

        return own == named
            || (words.Contains("worse") && own < named)
            || (words.Contains("better") && own > named);
    }

    [GeneratedRegex(
        "^(any band is|(?<n>[0-9]{1,4}) or more bands are) (?<what>.+)$",
        RegexOptions.CultureInvariant
    )]
    private static partial Regex Count();

    [GeneratedRegex("^(?<name>[a-z][a-z0-9-]*) is (?<what>[a-z][a-z0-9 -]*)$", RegexOptions.CultureInvariant)]
    private static partial Regex One();
}
