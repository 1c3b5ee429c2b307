using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Tests;

/// <summary>
/// Lays out a small core program by hand, with limits wide enough for any test. It knows nothing of the
/// compiler, so that Scoring is tested by itself.
/// </summary>
internal sealed class ProgramBuilder
{
    private const long Wide = ScoringProgram.Limit;

    private readonly List<ProgramField> _fields = [];
    private readonly List<ProgramLine> _lines = [];
    private readonly List<AnswerSlot> _slots = [];
    private readonly List<ObservationSlot> _observations = [];
    private readonly List<KeptLines> _kept = [];
    private readonly List<OutcomeLines> _outcomes = [];
    private readonly List<BandLine> _bands = [];
    private readonly List<ActionLines> _actions = [];

    public ProgramBuilder()
    {
        Field("age", 0, 1200);
        Field("form", 0, 1);
    }

    public IReadOnlyList<BandLine> Bands => _bands;

    public static IntExpr Number(long value) => new Constant(value);

    public static IntExpr Plus(IntExpr a, IntExpr b) => new Add(a, b, -Wide, Wide);

    public static IntExpr Times(IntExpr a, IntExpr b) => new Multiply(a, b, -Wide, Wide);

    public static IntExpr If(BoolExpr condition, IntExpr a, IntExpr b) =>
        new Choose(condition, a, b, -Wide, Wide);

    public static BoolExpr Is(IntExpr a, long b) => new IsEqual(a, Number(b));

    public int Field(string name, long low, long high)
    {
        _fields.Add(new ProgramField(name, low, high, ""));
        return _fields.Count - 1;
    }

    public int Line(string name, IntExpr value)
    {
        _lines.Add(new ProgramLine(name, value, null, ""));
        return _lines.Count - 1;
    }

    public int Line(string name, BoolExpr condition)
    {
        _lines.Add(new ProgramLine(name, null, condition, ""));
        return _lines.Count - 1;
    }

    public static IntExpr Read(int line) => new LineValue(line, -Wide, Wide);

    public static IntExpr Value(AnswerSlot slot) => new FieldValue(slot.ValueField, -Wide, Wide);

    public static IntExpr State(AnswerSlot slot) => new FieldValue(slot.StateField, 0, 8);

    public static IntExpr Age => new FieldValue(0, 0, 1200);

    public IReadOnlyList<AnswerSlot> Slots(string task, string response, string variant = "") =>
        [
            .. _slots.Where(s =>
                s.Task.Name == task && s.Response.Name == response && s.Variant.Name == variant
            ),
        ];

    /// <summary>Lays the answers and ticks of a task, and keeps the trial with the greatest of the criterion.</summary>
    public void Task(ProtocolTask task, Func<int, string, IntExpr>? criterion = null)
    {
        foreach (var variant in task.Variants)
        {
            var side = variant.Name.Length == 0 ? "" : "." + variant.Name;
            foreach (var response in task.Responses)
            {
                for (var trial = 1; trial <= task.Trials.Count; trial++)
                {
                    Lay(task, response, variant, trial, side);
                }
            }

            foreach (var tick in task.Ticks)
            {
                var key = $"{task.Name}.{tick.Observation.Name}{side}";
                _observations.Add(
                    new ObservationSlot(key, task, tick.Observation, variant, Field(key, 0, 2))
                );
            }

            Keep(task, variant, side, criterion);
        }
    }

    /// <summary>The state and both ends of a kept answer, the ends in the encoding of its field.</summary>
    public (IntExpr State, IntExpr Low, IntExpr High) Kept(string key)
    {
        var kept = _kept.Single(k => k.Key == key);
        return (Read(kept.StateLine), Read(kept.LowLine), Read(kept.HighLine));
    }

    /// <summary>A sum of kept ratings of levels 0, 1, 2 …: untried answers leave it bounded.</summary>
    public void Sum(Outcome outcome, params string[] keys)
    {
        IntExpr state = Number(1);
        IntExpr low = Number(0);
        IntExpr high = Number(0);
        foreach (var kept in keys.Select(Kept))
        {
            var passedOver = Is(kept.State, 1);
            state = If(passedOver, state, Number(0));
            low = Plus(low, If(passedOver, Number(0), kept.Low));
            high = Plus(high, If(passedOver, Number(0), kept.High));
        }

        Outcome(outcome, state, low, high, keys);
    }

    public void Outcome(Outcome outcome, IntExpr state, IntExpr low, IntExpr high, params string[] reads) =>
        _outcomes.Add(
            new OutcomeLines(
                outcome,
                Line($"{outcome.Name}.state", state),
                Line($"{outcome.Name}.low", low),
                Line($"{outcome.Name}.high", high),
                -1,
                -1,
                outcome.Step!.Value,
                reads
            )
        );

    /// <summary>A fraction: numerator and denominator lines of its own, times one.</summary>
    public void Fraction(Outcome outcome, long numerator, long denominator)
    {
        var above = Line($"{outcome.Name}.low", Number(numerator));
        var below = Line($"{outcome.Name}.below", Number(denominator));
        _outcomes.Add(
            new OutcomeLines(
                outcome,
                Line($"{outcome.Name}.state", Number(0)),
                above,
                above,
                below,
                below,
                1,
                []
            )
        );
    }

    /// <summary>The band of both ends where they share it; else undecided. Reads the full form only.</summary>
    public void Table(CutOffTable table)
    {
        var lines = _outcomes.Single(o => o.Outcome == table.Outcome);
        var count = table.Bands.Count;
        IntExpr band = Number(count + 1);
        foreach (var row in table.Rows)
        {
            var low = Cell(table, row, Read(lines.LowLine));
            var high = Cell(table, row, Read(lines.HighLine));
            var fits = new BothOf(
                new IsAtMost(Number(row.Ages.From.Months), Age),
                new IsAtMost(Age, Number(row.Ages.To.Months))
            );
            band = If(fits, If(new IsEqual(low, high), low, Number(count)), band);
        }

        var state = Read(lines.StateLine);
        var form = new FieldValue(1, 0, 1);
        band = If(Is(form, table.ShortForm ? 1 : 0), band, Number(count + 1));
        band = If(Is(state, 0), band, If(Is(state, 1), Number(count + 1), Number(count + 2)));
        _bands.Add(
            new BandLine(table, Line($"{table.Outcome.Name}.band{(table.ShortForm ? ".short" : "")}", band))
        );
    }

    public void Action(ProtocolAction action, BoolExpr applies, BoolExpr appliesNot) =>
        _actions.Add(
            new ActionLines(
                action,
                Line($"{action.Name}.applies", applies),
                Line($"{action.Name}.not", appliesNot)
            )
        );

    public BoolExpr AnyBand(int index) =>
        _bands
            .Select(b => Is(Read(b.Line), index < 0 ? b.Table.Bands.Count : index))
            .Aggregate((BoolExpr)Is(Number(0), 1), (a, b) => new EitherOf(a, b));

    public ScoringProgram Build()
    {
        IntExpr headline = Number(-1);
        for (var i = _actions.Count - 1; i >= 0; i--)
        {
            headline = If(new LineCondition(_actions[i].AppliesLine), Number(i), headline);
        }

        return new ScoringProgram
        {
            AgeField = 0,
            FormField = 1,
            HeadlineLine = _actions.Count == 0 ? -1 : Line("headline", headline),
            Fields = _fields,
            Lines = _lines,
            Answers = _slots,
            Observations = _observations,
            Kept = _kept,
            Outcomes = _outcomes,
            Bands = _bands,
            Actions = _actions,
            Claims = [],
        };
    }

    private static IntExpr Cell(CutOffTable table, CutOffRow row, IntExpr value)
    {
        var step = table.Outcome.Step!.Value;
        IntExpr band = Number(table.Bands.Count + 3);
        for (var i = 0; i < row.Cells.Count; i++)
        {
            if (row.Cells[i] is { } cell)
            {
                var from = Number((long)(cell.From / step).Numerator);
                var to = Number((long)(cell.To / step).Numerator);
                band = If(new BothOf(new IsAtMost(from, value), new IsAtMost(value, to)), Number(i), band);
            }
        }

        return band;
    }

    private static (long Low, long High) Bounds(Response response) =>
        response.Kind == ResponseKind.Rating ? (0, response.Scale!.Levels.Count - 1)
        : response.HasOptions ? (0, response.Options.Count - 1)
        : ((long)(response.Low / response.Step).Numerator, (long)(response.High / response.Step).Numerator);

    private void Lay(ProtocolTask task, Response response, Variant variant, int trial, string side)
    {
        var last =
            task.Trials.Count > 1 ? string.Create(CultureInfo.InvariantCulture, $".trial-{trial}") : "";
        var key = $"{task.Name}.{response.Name}{side}{last}";
        var (low, high) = Bounds(response);
        _slots.Add(
            new AnswerSlot(
                key,
                task,
                response,
                variant,
                trial,
                Field(key, low, high),
                Field(key + ".state", 0, 8)
            )
        );
    }

    private void Keep(ProtocolTask task, Variant variant, string side, Func<int, string, IntExpr>? criterion)
    {
        var trials = task.Trials.Count;
        IntExpr chosen = Number(trials == 1 ? 1 : 0);
        IntExpr worst = Number(0);
        if (trials > 1)
        {
            IntExpr best = Number(-1);
            for (var trial = 1; trial <= trials; trial++)
            {
                var slots = task
                    .Responses.Select(r => Slots(task.Name, r.Name, variant.Name)[trial - 1])
                    .ToList();
                worst = slots.Aggregate(worst, (a, s) => new Most(a, State(s), 0, 8));
                var given = slots.Aggregate(
                    (BoolExpr)Is(Number(1), 1),
                    (a, s) => new BothOf(a, Is(State(s), 0))
                );
                var value = criterion!(trial, variant.Name);
                var better = Line(
                    $"{task.Name}{side}.{trial}.better",
                    new BothOf(given, new Not(new IsAtMost(value, best)))
                );
                chosen = Read(
                    Line(
                        $"{task.Name}{side}.{trial}.chosen",
                        If(new LineCondition(better), Number(trial), chosen)
                    )
                );
                best = Read(
                    Line($"{task.Name}{side}.{trial}.best", If(new LineCondition(better), value, best))
                );
            }
        }

        foreach (var response in task.Responses)
        {
            Name(task, response, variant, side, chosen, worst);
        }
    }

    private void Name(
        ProtocolTask task,
        Response response,
        Variant variant,
        string side,
        IntExpr chosen,
        IntExpr worst
    )
    {
        var slots = Slots(task.Name, response.Name, variant.Name);
        var (lowest, highest) = Bounds(response);
        IntExpr state = worst;
        IntExpr value = Value(slots[0]);
        foreach (var slot in slots)
        {
            state = If(Is(chosen, slot.Trial), State(slot), state);
            value = If(Is(chosen, slot.Trial), Value(slot), value);
        }

        var key = $"{task.Name}.{response.Name}{side}";
        var stateLine = Line($"kept.{key}.state", state);
        var known = Is(Read(stateLine), 0);
        var low = Line($"kept.{key}.low", If(known, value, Number(lowest)));
        var high = Line($"kept.{key}.high", If(known, value, Number(highest)));
        var trial = slots.Count == 1 ? -1 : Line($"kept.{key}.trial", chosen);
        _kept.Add(new KeptLines(key, task, response, variant, stateLine, low, high, trial));
    }
}
