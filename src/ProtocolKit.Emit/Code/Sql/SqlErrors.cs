using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Sql;

/// <summary>
/// Columns that say what is wrong with a row. Which answers are missing is known only once the lines say which tasks
/// are given; and where an answer is wrong, nobody can say which tasks after it should be there.
/// </summary>
internal sealed class SqlErrors
{
    private readonly SqlDialect _dialect;
    private readonly SqlNames _names;
    private readonly IReadOnlyList<string> _lines;
    private readonly GivenTasks _given;
    private readonly List<SqlColumn> _columns = [];
    private readonly string _wrong;
    private int _count;

    public SqlErrors(
        Protocol protocol,
        SqlDialect dialect,
        SqlNames names,
        SqlReading reading,
        IReadOnlyList<string> lines
    )
    {
        (_dialect, _names, _lines) = (dialect, names, lines);
        _given = new GivenTasks(protocol.Program);
        _count = reading.Errors.Count;
        var wrong = reading.Answers.Select(WrongAnswer).ToList();
        _wrong = Add("wrong answers", Joined(wrong), "what is wrong with answers", wrong);
        var missing = reading.Answers.Select(MissingAnswer).ToList();
        List<string> all = [.. reading.Errors, _wrong, .. missing];
        Name = Add("errors", Joined(all), "what is wrong, if anything", all);
    }

    /// <summary>The column that lists what is wrong, empty where nothing is.</summary>
    public string Name { get; }

    public IReadOnlyList<SqlColumn> Columns => _columns;

    private string WrongAnswer(SqlAnswer read)
    {
        var answer = read.Slot;
        var wrong = SqlDialect.Concat([
            _dialect.Text(answer.Key + ": \""),
            $"substring({_dialect.Column(read.Text)}, 1, 60)",
            _dialect.Text($"\" is not {NumberReading.Expected(answer.Response)}. "),
        ]);
        var misplaced =
            read.Off.Length == 0
                ? ""
                : $"when {Is(read.Given, 2)} and {read.Off} then {_dialect.Text($"{answer.Key}: this task is not part of the short form; leave it out. ")} ";
        return AddError(
            $"case {misplaced}when {Is(read.Given, 2)} then {wrong} else '' end",
            [read.Text, read.Given, .. read.OffNeeds]
        );
    }

    private string MissingAnswer(SqlAnswer read)
    {
        var needs = new List<string> { read.Given };
        var due = Is(read.Given, 0);
        if (read.Need.Length > 0)
        {
            due += $" and {Is(read.Need, 0)}";
            needs.Add(read.Need);
        }

        if (read.Off.Length > 0)
        {
            due += $" and not {read.Off}";
            needs.AddRange(read.OffNeeds);
        }

        if (_given.LineOf(read.Slot) is var line and >= 0)
        {
            due += $" and {_dialect.Column(_wrong)} = '' and {_dialect.Column(_lines[line])}";
            needs.AddRange([_wrong, _lines[line]]);
        }

        var codes = string.Join(", ", States.Untried.Select(u => u.Code));
        var missing = $"{read.Slot.Key}: there is no answer. Give one, or say why not: {codes}. ";
        return AddError($"case when {due} then {_dialect.Text(missing)} else '' end", [.. needs]);
    }

    private string Joined(IReadOnlyList<string> errors) =>
        SqlDialect.Concat([.. errors.Select(_dialect.Column)]);

    private string AddError(string code, IReadOnlyCollection<string> needs) =>
        Add(FormattableString.Invariant($"error {++_count}"), code, "", needs);

    private string Add(string wanted, string code, string comment, IReadOnlyCollection<string> needs)
    {
        var name = _names.Of(wanted);
        _columns.Add(new SqlColumn(name, CodeLayout.Word(code), comment, [.. needs.Distinct()]));
        return name;
    }

    private string Is(string column, int number) =>
        FormattableString.Invariant($"{_dialect.Column(column)} = {number}");
}
