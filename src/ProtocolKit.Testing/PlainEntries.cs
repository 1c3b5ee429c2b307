using System.Runtime.CompilerServices;
using ProtocolKit.Model;

namespace ProtocolKit.Testing;

/// <summary>What stands in the records of a program, each entry made once: a million records hold few different ones.</summary>
internal sealed class PlainEntries
{
    /// <summary>Of an answer with more values the further ones are made anew each time.</summary>
    private const long MostValues = 4096;

    private static readonly ConditionalWeakTable<ScoringProgram, PlainEntries> Known = [];
    private static readonly int StateCount = Enum.GetValues<State>().Length;

    private readonly ScoringProgram _program;

    /// <summary>For each answer its untried codes by state, then its values; null where none was met yet.</summary>
    private readonly PlainAnswer?[][] _answers;
    private readonly (int Field, PlainObservation NotSeen, PlainObservation Seen)[] _observations;
    private readonly (int Field, PlainHistory No, PlainHistory Yes)[] _history;

    private PlainEntries(ScoringProgram program)
    {
        _program = program;
        _answers =
        [
            .. program
                .Answers.Select(a => program.Fields[a.ValueField])
                .Select(f => new PlainAnswer?[StateCount + Math.Min(f.High - f.Low + 1, MostValues)]),
        ];
        _observations =
        [
            .. program.Observations.Select(o =>
                (o.Field, new PlainObservation(o.Key, false), new PlainObservation(o.Key, true))
            ),
        ];
        _history =
        [
            .. program.History.Select(h =>
                (h.Field, new PlainHistory(h.Key, false), new PlainHistory(h.Key, true))
            ),
        ];
    }

    public static PlainEntries Of(ScoringProgram program) =>
        Known.GetValue(program, static p => new PlainEntries(p));

    public PlainRecord Record(long[] fields)
    {
        var answers = new List<PlainAnswer>(_answers.Length);
        for (var i = 0; i < _answers.Length; i++)
        {
            if (fields[_program.Answers[i].StateField] != (long)State.NotApplicable)
            {
                answers.Add(Answer(i, fields));
            }
        }

        var observations = new List<PlainObservation>(_observations.Length);
        foreach (var (field, notSeen, seen) in _observations)
        {
            if (fields[field] > 0)
            {
                observations.Add(fields[field] == 2 ? seen : notSeen);
            }
        }

        return new PlainRecord(
            fields[_program.AgeField],
            fields[_program.FormField] == 1,
            answers,
            observations
        )
        {
            History = Array.ConvertAll(_history, h => fields[h.Field] == 1 ? h.Yes : h.No),
        };
    }

    private PlainAnswer Answer(int index, long[] fields)
    {
        var slot = _program.Answers[index];
        var (state, value) = (fields[slot.StateField], fields[slot.ValueField]);
        var place =
            state == (long)State.Known ? StateCount + value - _program.Fields[slot.ValueField].Low : state;
        var known = _answers[index];
        return place >= known.Length
            ? Made(slot, (State)state, value)
            : known[place] ??= Made(slot, (State)state, value);
    }

    private static PlainAnswer Made(AnswerSlot slot, State state, long value)
    {
        if (state != State.Known)
        {
            return new PlainAnswer(slot.Key, null, States.Untried.First(u => u.State == state).Code);
        }

        var response = slot.Response;
        if (response.HasOptions)
        {
            return new PlainAnswer(slot.Key, null, response.Options[(int)value].Name);
        }

        var number = response.Scale is { } scale
            ? scale.Levels.Select(l => l.Points).Order().ElementAt((int)value)
            : response.Step * value;
        return new PlainAnswer(slot.Key, number, null);
    }
}
