using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Language.Tests.Support;

/// <summary>
/// A record of a small protocol, filled by the names an author uses: <c>task</c>, <c>task.answer</c>, <c>task.answer.side</c>,
/// <c>….trial-2</c>. What is not set is not planned, or, in a short record, outside the form.
/// </summary>
internal sealed class Sitting
{
    private readonly Protocol _protocol;
    private readonly long[] _fields;

    public Sitting(Protocol protocol, string? age = null, bool isShort = false)
    {
        _protocol = protocol;
        var program = protocol.Program;
        _fields = [.. program.Fields.Select(f => Math.Max(0, f.Low))];
        Assert.True(Age.TryParse(age ?? protocol.Ages.From.ToString(), out var months));
        _fields[program.AgeField] = months.Months;
        _fields[program.FormField] = isShort ? 1 : 0;
        foreach (var slot in program.Answers)
        {
            var isOutside = isShort && !slot.Task.ShortForm;
            _fields[slot.StateField] = (long)(isOutside ? State.NotApplicable : State.NotPlanned);
        }
    }

    /// <summary>Fills several at once: <c>a=2 b=refused c.left=-</c>, where a dash means not applicable.</summary>
    public Sitting With(string answers)
    {
        foreach (var answer in answers.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var parts = answer.Split('=');
            Set(parts[0], parts[1]);
        }

        return this;
    }

    public Sitting Set(string key, string value)
    {
        var program = _protocol.Program;
        if (program.Observations.FirstOrDefault(o => o.Key == key) is { } observation)
        {
            _fields[observation.Field] = Array.IndexOf(["not-looked", "not-seen", "seen"], value);
            return this;
        }

        var slot = Slot(key);
        var state =
            value == "-" ? State.NotApplicable : States.Untried.FirstOrDefault(u => u.Code == value).State;
        _fields[slot.StateField] = (long)state;
        if (state == State.Known)
        {
            _fields[slot.ValueField] = Encode(slot.Response, value);
        }

        return this;
    }

    public Scored Score() => new(_protocol, Evaluator.Run(_protocol.Program, _fields));

    private AnswerSlot Slot(string key)
    {
        var found = _protocol.Program.Answers.Where(a => a.Key == key || IsShortFor(key, a)).ToList();
        Assert.True(found.Count == 1, $"{key} means {found.Count} answers.");
        return found[0];
    }

    /// <summary>The answer's name may be left out: <c>jaw.left</c> for <c>jaw.rate.left</c>.</summary>
    private static bool IsShortFor(string key, AnswerSlot slot) =>
        slot.Key
            == slot.Task.Name + "." + slot.Response.Name + key[Math.Min(key.Length, slot.Task.Name.Length)..]
        && key.StartsWith(slot.Task.Name, StringComparison.Ordinal);

    private static long Encode(Response response, string value)
    {
        if (response.HasOptions)
        {
            return response.Options.ToList().FindIndex(o => o.Name == value);
        }

        Assert.True(Rational.TryParse(value, out var number));
        if (response.Scale is { } scale)
        {
            return scale.Levels.Reverse().ToList().FindIndex(l => l.Points == number);
        }

        Assert.True(number.TryCountSteps(response.Step, out var steps));
        return (long)steps;
    }
}

/// <summary>What a record came to, read off the lines of the program.</summary>
internal sealed class Scored(Protocol protocol, IReadOnlyList<long> lines)
{
    public IReadOnlyList<long> Lines => lines;

    /// <summary>State and both ends of a measure or score.</summary>
    public (State State, Rational Low, Rational High) Of(string outcome)
    {
        var found = protocol.Program.Outcomes.First(o => o.Outcome.Name == outcome);
        return (
            (State)lines[found.StateLine],
            End(found.LowLine, found.LowDenominatorLine, found.Scale),
            End(found.HighLine, found.HighDenominatorLine, found.Scale)
        );
    }

    /// <summary><c>3</c>, <c>2 to 4</c>, <c>not applicable</c> or the reason why it is blocked.</summary>
    public string Value(string outcome)
    {
        var (state, low, high) = Of(outcome);
        if (state != State.Known)
        {
            return state == State.NotApplicable ? "not applicable" : "blocked: " + state.ToWords();
        }

        return low == high ? low.ToString() : $"{low} to {high}";
    }

    public string Band(string outcome, bool isShort = false)
    {
        var band = protocol.Program.Bands.First(b =>
            b.Table.Outcome.Name == outcome && b.Table.ShortForm == isShort
        );
        var index = (int)lines[band.Line];
        var count = band.Table.Bands.Count;
        return index < count
            ? band.Table.Bands[index].Name
            : new[] { "undecided", "not applicable", "blocked", "no band" }[index - count];
    }

    /// <summary><c>applies</c>, <c>doesn't apply</c> or <c>undecided</c>.</summary>
    public string Action(string name)
    {
        var action = protocol.Program.Actions.First(a => a.Action.Name == name);
        var (applies, not) = (lines[action.AppliesLine] == 1, lines[action.AppliesNotLine] == 1);
        Assert.False(applies && not);
        return applies ? "applies"
            : not ? "doesn't apply"
            : "undecided";
    }

    public string Headline() =>
        lines[protocol.Program.HeadlineLine] is var index and >= 0
            ? protocol.Program.Actions[(int)index].Action.Name
            : "none";

    /// <summary>True where the claim's premise surely holds and its conclusion surely fails.</summary>
    public bool Refutes(int claim)
    {
        var found = protocol.Program.Claims[claim];
        return lines[found.PremiseLine] == 1 && lines[found.ConclusionFailsLine] == 1;
    }

    private Rational End(int line, int under, Rational scale) =>
        new Rational(lines[line], under < 0 ? 1 : lines[under]) * scale;
}
