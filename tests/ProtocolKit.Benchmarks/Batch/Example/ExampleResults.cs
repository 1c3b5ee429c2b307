using ProtocolKit.Model;

namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>The columns that the loop fills, by the names of scores, cut-offs and actions.</summary>
internal sealed class ExampleResults(ScoringProgram program, IReadOnlyList<int> wanted, long[][] results)
{
    private readonly Dictionary<int, long[]> _columns = wanted
        .Select((line, i) => (line, column: results[i]))
        .ToDictionary(x => x.line, x => x.column);

    public long[] Headlines => _columns[program.HeadlineLine];

    public Value Of(string name)
    {
        var outcome = program.Outcomes.First(o => o.Outcome.Name == name);
        return new Value(_columns[outcome.StateLine], _columns[outcome.LowLine], _columns[outcome.HighLine]);
    }

    /// <summary>The column of a cut-off table, or null where there is none for the form.</summary>
    public long[]? Bands(string name, bool shortForm) =>
        program
            .Bands.Where(b => b.Table.Outcome.Name == name && b.Table.ShortForm == shortForm)
            .Select(b => _columns[b.Line])
            .FirstOrDefault();

    public (long[] Applies, long[] AppliesNot) Action(string name)
    {
        var action = program.Actions.First(a => a.Action.Name == name);
        return (_columns[action.AppliesLine], _columns[action.AppliesNotLine]);
    }
}

/// <summary>The three columns of a score.</summary>
internal readonly struct Value(long[] states, long[] lows, long[] highs)
{
    private readonly long[] _states = states;
    private readonly long[] _lows = lows;
    private readonly long[] _highs = highs;

    public void Put(int row, long state, long low, long high)
    {
        _states[row] = state;
        _lows[row] = low;
        _highs[row] = high;
    }
}
