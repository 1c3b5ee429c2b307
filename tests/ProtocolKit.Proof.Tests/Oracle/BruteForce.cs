namespace ProtocolKit.Proof.Tests.Oracle;

/// <summary>
/// Every sheet of a few answers, one by one. Nothing of the engine and nothing of the scoring is used here: answers are small
/// numbers, what they come to is worked out by each test's own arithmetic.
/// </summary>
/// <param name="levels">For each answer its points, ascending; more is better.</param>
internal sealed class BruteForce(params int[][] levels)
{
    /// <summary>Points of each answer, null for one that was not tried.</summary>
    public IEnumerable<int?[]> Sheets(int mostUntried)
    {
        var picks = new int[levels.Length];
        while (true)
        {
            var sheet = picks.Select((p, i) => p < levels[i].Length ? levels[i][p] : (int?)null).ToArray();
            if (sheet.Count(a => a is null) <= mostUntried)
            {
                yield return sheet;
            }

            var at = 0;
            while (at < picks.Length && picks[at] == levels[at].Length)
            {
                picks[at++] = 0;
            }

            if (at == picks.Length)
            {
                yield break;
            }

            picks[at]++;
        }
    }

    public SortedSet<int> Set(Func<int?[], int?> value, int mostUntried = 0) =>
        [.. Sheets(mostUntried).Select(value).OfType<int>()];

    public SortedDictionary<int, int> Counts(Func<int?[], int?> value) =>
        new(Sheets(0).Select(value).OfType<int>().GroupBy(v => v).ToDictionary(g => g.Key, g => g.Count()));

    /// <summary>
    /// The smallest sheet that satisfies a test: without untried answers before one with; fewest that are not the best; fewest
    /// levels off; the better answer at the earlier place. An untried answer is below every level.
    /// </summary>
    public int?[]? Smallest(Func<int?[], bool> test, int mostUntried = 0) =>
        Sheets(mostUntried)
            .Where(test)
            .OrderBy(s => s.Contains(null) ? 1 : 0)
            .ThenBy(s => Off(s).Count(o => o > 0))
            .ThenBy(s => Off(s).Sum())
            .ThenBy(s => string.Concat(Off(s).Select(o => (char)('a' + o))), StringComparer.Ordinal)
            .FirstOrDefault();

    /// <summary>
    /// The smallest two complete sheets, the second as good or better in every answer, that satisfy a test: fewest answers that are
    /// not the best on both together, fewest levels off, then better answers at the earlier place, on the first sheet and then the second.
    /// </summary>
    public (int?[] First, int?[] Second)? SmallestPair(Func<int?[], int?[], bool> test)
    {
        var sheets = Sheets(0).ToList();
        var pairs = sheets
            .SelectMany(a =>
                sheets.Where(b => IsBetter(a, b) && test(a, b)).Select(b => (First: a, Second: b))
            )
            .OrderBy(p => Off(p.First).Concat(Off(p.Second)).Count(o => o > 0))
            .ThenBy(p => Off(p.First).Concat(Off(p.Second)).Sum())
            .ThenBy(
                p =>
                    string.Concat(
                        Off(p.First)
                            .Zip(Off(p.Second))
                            .SelectMany(o => new[] { (char)('a' + o.First), (char)('a' + o.Second) })
                    ),
                StringComparer.Ordinal
            )
            .ToList();
        return pairs.Count == 0 ? null : pairs[0];
    }

    private static bool IsBetter(int?[] first, int?[] second) =>
        first.Zip(second).All(p => p.First <= p.Second);

    private IEnumerable<int> Off(int?[] sheet) =>
        sheet.Select(
            (a, i) =>
                a is { } points ? levels[i].Length - 1 - Array.IndexOf(levels[i], points) : levels[i].Length
        );
}
