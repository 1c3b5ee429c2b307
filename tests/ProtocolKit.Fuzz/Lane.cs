namespace ProtocolKit.Fuzz;

/// <summary>What a lane came to.</summary>
/// <param name="Ways">How many different sets of findings were met.</param>
/// <param name="Kept">Texts kept to go on from, as they led to findings no text before them had.</param>
public sealed record LaneResult(
    long Texts,
    long Protocols,
    int Ways,
    int Kept,
    TimeSpan Slowest,
    long MostBytes,
    IReadOnlyList<Fault> Faults
);

/// <summary>A text that breaks a law.</summary>
/// <param name="Index">The how-manieth text of its lane.</param>
public sealed record Fault(long Index, string Seed, string Text, string What);

/// <summary>
/// A row of texts, each made from one before it; the same number always gives the same row. Texts that lead to a new set of
/// findings are gone on from, so that the row works its way into the compiler's corners.
/// </summary>
public sealed class Lane(IReadOnlyList<Seed> seeds, int number)
{
    private const int MostKept = 20_000;
    private const int MostFaults = 20;
    private const int Large = 2_000;
    private readonly Mutator _mutator = Mutator.From(seeds);
    private readonly Random _random = new(number);
    private readonly HashSet<string> _ways = new(StringComparer.Ordinal);
    private readonly List<Seed> _small = [.. seeds.Where(s => s.Text.Length <= Large)];
    private readonly List<Seed> _large = [.. seeds.Where(s => s.Text.Length > Large)];
    private readonly List<Fault> _faults = [];

    /// <param name="texts">How many to compile.</param>
    /// <param name="told">Called after each with how many are done.</param>
    public LaneResult Run(long texts, Action<long>? told = null)
    {
        var (protocols, slowest, most, begun) = (0L, TimeSpan.Zero, 0L, _small.Count);
        for (var i = 0L; i < texts && _faults.Count < MostFaults; i++)
        {
            var seed = Next();
            var verdict = Verdict.Of(seed.Text, seed.Modules);
            protocols += verdict.Codes.Length == 0 ? 1 : 0;
            slowest = verdict.Time > slowest ? verdict.Time : slowest;
            most = Math.Max(most, verdict.Allocated);
            if (verdict.Wrong is { } wrong)
            {
                _faults.Add(new Fault(i, seed.Name, seed.Text, wrong));
            }
            else if (_ways.Add(verdict.Codes) && seed.Text.Length <= Large && _small.Count < MostKept)
            {
                _small.Add(seed);
            }

            told?.Invoke(i + 1);
        }

        return new LaneResult(texts, protocols, _ways.Count, _small.Count - begun, slowest, most, _faults);
    }

    /// <summary>Large texts are slow, and one in two thousand is enough of them.</summary>
    private Seed Next()
    {
        var from = _large.Count > 0 && _random.Next(2_000) == 0 ? _large : _small;
        var seed = from[_random.Next(from.Count)];
        var other = _small[_random.Next(_small.Count)];
        return seed with { Text = _mutator.Change(seed.Text, other.Text, _random) };
    }
}
