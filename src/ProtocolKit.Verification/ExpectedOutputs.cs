using System.Collections.Concurrent;
using System.Globalization;
using System.Runtime.CompilerServices;
using ProtocolKit.Model;

namespace ProtocolKit.Verification;

/// <summary>The outputs of a program's records, each made once: a million records come to few different ones.</summary>
internal sealed class ExpectedOutputs
{
    private static readonly ConditionalWeakTable<ScoringProgram, ExpectedOutputs> Known = [];

    private readonly OutcomeOutputs[] _outcomes;
    private readonly OutputValues[] _bands;
    private readonly OutputValues[] _actions;
    private readonly OutputValues _headline = new("headline");
    private readonly string[] _reasonKeys;

    private ExpectedOutputs(ScoringProgram program)
    {
        _outcomes = [.. program.Outcomes.Select(o => new OutcomeOutputs(program, o))];
        _bands = [.. program.Bands.Select(b => new OutputValues($"band {b.Table.Outcome.Name}"))];
        _actions = [.. program.Actions.Select(a => new OutputValues($"action {a.Action.Name}"))];
        _reasonKeys =
        [
            .. Enumerable
                .Range(1, _outcomes.Sum(o => o.Reads.Length))
                .Select(i => string.Create(CultureInfo.InvariantCulture, $"reason {i}")),
        ];
    }

    public static ExpectedOutputs Of(ScoringProgram program) =>
        Known.GetValue(program, static p => new ExpectedOutputs(p));

    /// <summary>All outputs of a record, in the order in which emitted code says them.</summary>
    public IReadOnlyList<ExpectedOutput> Say(ScoredRecord scored)
    {
        var outputs = new List<ExpectedOutput>((5 * _outcomes.Length) + _bands.Length + _actions.Length + 1);
        for (var i = 0; i < _outcomes.Length; i++)
        {
            _outcomes[i].Say(scored.Outcomes[i], outputs);
        }

        for (var i = 0; i < _bands.Length; i++)
        {
            if (scored.Bands[i].Table.ShortForm == scored.Record.IsShortForm)
            {
                outputs.Add(_bands[i].Word(scored.Bands[i].Word));
            }
        }

        for (var i = 0; i < _actions.Length; i++)
        {
            outputs.Add(_actions[i].Word(scored.Actions[i].Word));
        }

        outputs.Add(_headline.Word(scored.Headline?.Name ?? "none"));
        SayReasons(scored, outputs);
        return outputs;
    }

    private void SayReasons(ScoredRecord scored, List<ExpectedOutput> outputs)
    {
        var count = 0;
        foreach (var outcome in _outcomes)
        {
            foreach (var (stateLine, words) in outcome.Reads)
            {
                var state = (State)scored.Lines[stateLine];
                if (state.IsUntried())
                {
                    outputs.Add(ExpectedOutput.Word(_reasonKeys[count++], words[(int)state]));
                }
            }
        }
    }

    /// <summary>The outputs of a measure or score.</summary>
    private sealed class OutcomeOutputs
    {
        private readonly OutputValues _state;
        private readonly OutputValues _low;
        private readonly OutputValues _high;
        private readonly ExpectedOutput _unit;
        private readonly ExpectedOutput _step;

        public OutcomeOutputs(ScoringProgram program, OutcomeLines outcome)
        {
            var name = outcome.Outcome.Name;
            _state = new OutputValues($"score {name} state");
            _low = new OutputValues($"score {name} low");
            _high = new OutputValues($"score {name} high");
            _unit = ExpectedOutput.Word($"score {name} unit", outcome.Outcome.Unit.Symbol);
            _step = ExpectedOutput.Of($"score {name} step", outcome.Outcome.Step);
            Reads =
            [
                .. ProgramReads
                    .Of(program, outcome)
                    .Select(k =>
                        (
                            k.StateLine,
                            Enum.GetValues<State>().Select(s => $"{name}: {k.Key} {s.ToWords()}").ToArray()
                        )
                    ),
            ];
        }

        /// <summary>The answers it rests on: the line with its state, and the reason for each state.</summary>
        public (int StateLine, string[] Words)[] Reads { get; }

        public void Say(OutcomeResult result, List<ExpectedOutput> outputs)
        {
            var isKnown = result.State == State.Known;
            outputs.Add(_state.Word(result.State.ToWords()));
            outputs.Add(_low.Number(isKnown ? result.Low : null));
            outputs.Add(_high.Number(isKnown ? result.High : null));
            outputs.Add(_unit);
            outputs.Add(_step);
        }
    }

    /// <summary>What one output may say.</summary>
    private sealed class OutputValues(string key)
    {
        /// <summary>Of an output with more values the further ones are made anew each time.</summary>
        private const int MostKept = 4096;

        private readonly ConcurrentDictionary<string, ExpectedOutput> _words = new(StringComparer.Ordinal);
        private readonly ConcurrentDictionary<Rational, ExpectedOutput> _numbers = [];
        private int _kept;

        public ExpectedOutput Word(string text) =>
            _words.GetOrAdd(text, static (t, k) => ExpectedOutput.Word(k, t), key);

        public ExpectedOutput Number(Rational? number)
        {
            if (number is not { } known)
            {
                return Word("none");
            }

            if (_numbers.TryGetValue(known, out var output))
            {
                return output;
            }

            output = ExpectedOutput.Of(key, known);
            if (_kept < MostKept && _numbers.TryAdd(known, output))
            {
                Interlocked.Increment(ref _kept);
            }

            return output;
        }
    }
}
