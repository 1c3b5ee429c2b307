using ProtocolKit.Model;

namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>What is known of a value: how it stands with it, and the ends of what it is or could be.</summary>
internal readonly record struct Ends(long State, long Low, long High)
{
    public static Ends Of(long value) => new(0, value, value);

    /// <summary>Why there is no answer: one that doesn't apply adds nothing, any other could be anything.</summary>
    public static Ends None(long state, long least, long most) =>
        state == 1 ? new Ends(1, 0, 0) : new Ends(state, least, most);
}

/// <summary>The columns of the example's answers by their names, as someone finds them who reads a table.</summary>
internal sealed class ExampleAnswers(ScoringProgram program, long[][] fields)
{
    private readonly Dictionary<string, AnswerSlot> _answers = program.Answers.ToDictionary(
        a => a.Key,
        StringComparer.Ordinal
    );

    public long[] Ages { get; } = fields[program.AgeField];

    public long[] Forms { get; } = fields[program.FormField];

    public Single One(string name, long most) => new(Values(name), States(name), most);

    public BestOfTwo Rating(string name) =>
        new(
            Values(name + ".trial-1"),
            States(name + ".trial-1"),
            Values(name + ".trial-2"),
            States(name + ".trial-2")
        );

    public Trials Trials(string name, int count) =>
        new(
            [.. Enumerable.Range(1, count).Select(t => Values($"{name}.trial-{t}"))],
            [.. Enumerable.Range(1, count).Select(t => States($"{name}.trial-{t}"))]
        );

    public long[] Observed(string name) => fields[program.Observations.First(o => o.Key == name).Field];

    private long[] Values(string name) => fields[_answers[name].ValueField];

    private long[] States(string name) => fields[_answers[name].StateField];
}

/// <summary>An answer of one trial: a count or a choice.</summary>
internal readonly struct Single(long[] values, long[] states, long most)
{
    private readonly long[] _values = values;
    private readonly long[] _states = states;
    private readonly long _most = most;

    public Ends At(int row)
    {
        var state = _states[row];
        return state == 0 ? Ends.Of(_values[row]) : Ends.None(state, 0, _most);
    }
}

/// <summary>A rating from 0 to 2 with a second trial; the better one counts.</summary>
internal readonly struct BestOfTwo(long[] first, long[] firstState, long[] second, long[] secondState)
{
    private readonly long[] _first = first;
    private readonly long[] _firstState = firstState;
    private readonly long[] _second = second;
    private readonly long[] _secondState = secondState;

    public Ends At(int row)
    {
        var (first, state, secondState) = (_first[row], _firstState[row], _secondState[row]);
        if (state == 0)
        {
            return Ends.Of(secondState == 0 ? Math.Max(first, _second[row]) : first);
        }

        return secondState == 0 ? Ends.Of(_second[row]) : Ends.None(Math.Max(state, secondState), 0, 2);
    }
}

/// <summary>Trials of a count or a time.</summary>
internal readonly struct Trials(long[][] values, long[][] states)
{
    private readonly long[][] _values = values;
    private readonly long[][] _states = states;

    public Ends Highest(int row, long least, long most)
    {
        var (best, gravest) = (-1L, 0L);
        for (var t = 0; t < _values.Length; t++)
        {
            var state = _states[t][row];
            gravest = Math.Max(gravest, state);
            best = state == 0 ? Math.Max(best, _values[t][row]) : best;
        }

        return best >= 0 ? Ends.Of(best) : Ends.None(gravest, least, most);
    }

    public Ends Lowest(int row, long least, long most)
    {
        var (best, gravest) = (long.MaxValue, 0L);
        for (var t = 0; t < _values.Length; t++)
        {
            var state = _states[t][row];
            gravest = Math.Max(gravest, state);
            best = state == 0 ? Math.Min(best, _values[t][row]) : best;
        }

        return best < long.MaxValue ? Ends.Of(best) : Ends.None(gravest, least, most);
    }

    /// <summary>The mean of two, rounded half up; both are needed.</summary>
    public Ends Mean(int row, long least, long most)
    {
        var state = Math.Max(_states[0][row], _states[1][row]);
        return state == 0
            ? Ends.Of((_values[0][row] + _values[1][row] + 1) / 2)
            : new Ends(state, least, most);
    }

    /// <summary>The fastest trial: how many in a second, in so many parts, rounded half up; a trial needs its time.</summary>
    public Ends Fastest(in Trials times, int row, long parts, long most)
    {
        var (best, gravest) = (-1L, 0L);
        for (var t = 0; t < _values.Length; t++)
        {
            var state = Math.Max(_states[t][row], times._states[t][row]);
            gravest = Math.Max(gravest, state);
            if (state == 0)
            {
                var time = times._values[t][row];
                best = Math.Max(best, (_values[t][row] * parts * 2 + time) / (time * 2));
            }
        }

        return best >= 0 ? Ends.Of(best) : Ends.None(gravest, 0, most);
    }
}
