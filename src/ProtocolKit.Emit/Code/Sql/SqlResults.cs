using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// The columns of the result: the record's case, age and form; of each value its state, both ends and its band;
/// each action; the headline; the reasons and the errors. All but the last are nothing where there is an error.
/// </summary>
internal sealed class SqlResults
{
    private readonly SqlDialect _dialect;
    private readonly Protocol _protocol;
    private readonly SqlReading _reading;
    private readonly string _errors;
    private readonly IReadOnlyList<string> _lines;
    private readonly SqlNames _names;
    private readonly List<SqlColumn> _columns = [];

    /// <param name="errors">The column that lists what is wrong, empty where nothing is.</param>
    public SqlResults(
        Protocol protocol,
        SqlDialect dialect,
        SqlReading reading,
        string errors,
        IReadOnlyList<string> lines
    )
    {
        (_protocol, _dialect, _reading, _errors, _lines) = (protocol, dialect, reading, errors, lines);
        _names = new SqlNames(dialect.LongestName);
        var program = protocol.Program;
        Pass(reading.Case, RecordKeys.Case);
        Pass(reading.Fields[program.AgeField], RecordKeys.AgeMonths);
        Add(
            RecordKeys.Form,
            $"case when {Column(reading.Fields[program.FormField])} = 1 then '{RecordKeys.Short}' else '{RecordKeys.Full}' end",
            "",
            reading.Fields[program.FormField]
        );
        foreach (var outcome in program.Outcomes)
        {
            AddOutcome(outcome);
        }

        AddActions();
        AddReasons();
        Pass(errors, "errors");
    }

    public IReadOnlyList<SqlColumn> Columns => _columns;

    /// <summary>What a value's end is multiplied by and divided by, apart from lines.</summary>
    public static (BigInteger Above, BigInteger Below) ScaleOf(OutcomeLines outcome) =>
        (outcome.Scale.Numerator, outcome.Scale.Denominator);

    private void AddOutcome(OutcomeLines outcome)
    {
        var name = outcome.Outcome.Name;
        var state = _lines[outcome.StateLine];
        var note = outcome.Outcome.Unit.Symbol is { Length: > 0 } unit ? $"in {unit}" : "";
        Add($"{name}.state", StateWord(Column(state)), "", state);
        AddEnd($"{name}.low", outcome, outcome.LowLine, outcome.LowDenominatorLine, note);
        AddEnd($"{name}.high", outcome, outcome.HighLine, outcome.HighDenominatorLine, note);
        AddBand(name);
    }

    private void AddEnd(string name, OutcomeLines outcome, int line, int by, string note)
    {
        var state = _lines[outcome.StateLine];
        var (above, below) = ScaleOf(outcome);
        var number = Column(_lines[line]);
        var guard = $"{Column(state)} = 0";
        if (!ResultColumns.IsFraction(outcome))
        {
            var value =
                outcome.Scale == Rational.One ? number : _dialect.Scaled(number, outcome.Scale.ToString());
            AddGuarded(name, guard, value, note, state, _lines[line]);
            return;
        }

        var numerator = above == 1 ? number : $"{number} * {_dialect.Wide(Digits(above))}";
        AddGuarded(name, guard, numerator, "numerator; " + note, state, _lines[line]);
        string[] needs = by < 0 ? [] : [_lines[by]];
        var denominator =
            by < 0 ? _dialect.Wide(Digits(below)) : $"{Column(_lines[by])} * {_dialect.Wide(Digits(below))}";
        AddGuarded(name + "-over", guard, denominator, "denominator", [state, .. needs]);
    }

    private void AddBand(string name)
    {
        var tables = _protocol.Program.Bands.Where(b => b.Table.Outcome.Name == name).ToList();
        if (tables.Count == 0)
        {
            return;
        }

        var form = _reading.Fields[_protocol.Program.FormField];
        var whens = tables.Select(t =>
            Invariant(
                $"when {Column(form)} = {(t.Table.ShortForm ? 1 : 0)} then {BandWord(t, Column(_lines[t.Line]))}"
            )
        );
        Add(
            $"{name}.band",
            $"case {string.Join(' ', whens)} else null end",
            "",
            [form, .. tables.Select(t => _lines[t.Line])]
        );
    }

    private string BandWord(BandLine band, string line)
    {
        var names = band.Table.Bands.Select(b => b.Name).ToList();
        string[] all = [.. names, "undecided", "not applicable", "blocked"];
        var whens = all.Select((n, i) => Invariant($"when {i} then {_dialect.Text(n)}"));
        return $"case {line} {string.Join(' ', whens)} else 'no band' end";
    }

    private void AddActions()
    {
        var program = _protocol.Program;
        foreach (var action in program.Actions)
        {
            var (applies, not) = (_lines[action.AppliesLine], _lines[action.AppliesNotLine]);
            Add(
                action.Action.Name,
                $"case when {Column(applies)} then 'applies' when {Column(not)} then 'applies not' else 'undecided' end",
                "",
                applies,
                not
            );
        }

        if (program.HeadlineLine < 0)
        {
            Add("headline", "null", "");
            return;
        }

        var line = _lines[program.HeadlineLine];
        var names = program.Actions.Select(
            (a, i) => Invariant($"when {i} then {_dialect.Text(a.Action.Name)}")
        );

        // A lookup that ends in null is null throughout in ClickHouse: the guard says nothing instead.
        AddGuarded(
            "headline",
            $"{Column(line)} >= 0",
            $"case {Column(line)} {string.Join(' ', names)} else '' end",
            "the most severe action that applies",
            line
        );
    }

    private void AddReasons()
    {
        var parts = new List<string>();
        var needs = new HashSet<string>(StringComparer.Ordinal);
        foreach (var outcome in _protocol.Program.Outcomes)
        {
            foreach (var kept in ProgramReads.Of(_protocol.Program, outcome))
            {
                var state = _lines[kept.StateLine];
                needs.Add(state);
                var start = _dialect.Text($"{outcome.Outcome.Name}: {kept.Key} ");
                var text = SqlDialect.Concat([start, StateWord(Column(state)), "'; '"]);
                parts.Add($"case when {Column(state)} >= 2 then {text} else '' end");
            }
        }

        Add("reasons", SqlDialect.Concat(parts), "what was not tried, value by value", [.. needs]);
    }

    private static string StateWord(string state)
    {
        var words = Enum.GetValues<State>()
            .SkipLast(1)
            .Select(s => Invariant($"when {(int)s} then '{s.ToWords()}'"));
        return $"case {state} {string.Join(' ', words)} else '{Enum.GetValues<State>()[^1].ToWords()}' end";
    }

    private void Pass(string column, string name) =>
        _columns.Add(new SqlColumn(_names.Of(name), CodeLayout.Word(Column(column)), "", [column]));

    private void Add(string name, string code, string comment, params string[] needs) =>
        AddGuarded(name, "", code, comment, needs);

    private void AddGuarded(string name, string guard, string code, string comment, params string[] needs)
    {
        var condition = $"{Column(_errors)} = ''" + (guard.Length > 0 ? $" and {guard}" : "");
        _columns.Add(
            new SqlColumn(
                _names.Of(name),
                CodeLayout.Word($"case when {condition} then {code} else null end"),
                comment,
                [.. needs.Append(_errors).Distinct()]
            )
        );
    }

    private string Column(string name) => _dialect.Column(name);

    private static string Digits(BigInteger value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
