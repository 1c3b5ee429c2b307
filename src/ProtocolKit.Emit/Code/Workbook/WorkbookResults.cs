using System.Globalization;
using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code.Workbook;

/// <summary>The columns of the results sheet, in the order of <see cref="ResultColumns"/>.</summary>
internal sealed class WorkbookResults
{
    public const string Sheet = "Results";

    private readonly ScoringProgram _program;
    private readonly WorkbookLists _lists;
    private readonly ScoringCells _cells;
    private readonly WorkbookReading _reading;
    private readonly string _errors;
    private readonly IReadOnlyList<string> _lines;
    private readonly string _right;

    /// <param name="errors">The cell that lists what is wrong, empty where nothing is.</param>
    public WorkbookResults(
        Protocol protocol,
        EntrySheet entry,
        ScoringCells cells,
        WorkbookReading reading,
        string errors,
        IReadOnlyList<string> lines,
        WorkbookLists lists
    )
    {
        (_program, _cells, _reading, _lines, _lists) = (protocol.Program, cells, reading, lines, lists);
        _errors = errors;
        _right = cells.Add("may be scored", "", $"AND(NOT({reading.Empty}),{errors}=\"\")");
        var reasons = Reasons();
        Columns =
        [
            .. ResultColumns
                .Of(protocol)
                .Select(c => new FormulaColumn(c.Name, Note(c), Formula(c, entry, reasons))),
        ];
    }

    public IReadOnlyList<FormulaColumn> Columns { get; }

    private string Formula(ResultColumn column, EntrySheet entry, string reasons)
    {
        var outcome = _program.Outcomes.FirstOrDefault(o => o.Outcome.Name == column.Subject);
        return column.Part switch
        {
            ResultPart.Case => $"IF({On(_reading.Empty)},\"\",TRIM({entry.Cell(RecordKeys.Case)}))",
            ResultPart.AgeMonths => Guarded(On(_reading.Fields[_program.AgeField])),
            ResultPart.Form => Guarded(
                $"IF({On(_reading.Fields[_program.FormField])}=1,{_lists.Word(RecordKeys.Short)},{_lists.Word(RecordKeys.Full)})"
            ),
            ResultPart.State => Guarded(_lists.StateWord(At(outcome!.StateLine))),
            ResultPart.Low => Guarded(End(outcome!, outcome!.LowLine)),
            ResultPart.LowOver => Guarded(Over(outcome!, outcome!.LowDenominatorLine)),
            ResultPart.High => Guarded(End(outcome!, outcome!.HighLine)),
            ResultPart.HighOver => Guarded(Over(outcome!, outcome!.HighDenominatorLine)),
            ResultPart.Band => Guarded(Band(column.Subject)),
            ResultPart.Action => Guarded(Action(column.Subject)),
            ResultPart.Headline => Guarded(Headline()),
            ResultPart.Reasons => Guarded(On(reasons)),
            _ => On(_errors),
        };
    }

    private string Note(ResultColumn column) =>
        column.Part switch
        {
            ResultPart.Low or ResultPart.High => _program
                .Outcomes.First(o => o.Outcome.Name == column.Subject)
                .Outcome.Unit.Symbol,
            ResultPart.Errors => "where there is an error, nothing else is said",
            ResultPart.Headline => "the most severe action that applies",
            ResultPart.Reasons => "what was not tried",
            _ => "",
        };

    private string End(OutcomeLines outcome, int line)
    {
        var (above, below) = (Digits(outcome.Scale.Numerator), Digits(outcome.Scale.Denominator));
        var number = above == "1" ? At(line) : $"{At(line)}*{above}";
        var value = ResultColumns.IsFraction(outcome) || below == "1" ? number : $"{number}/{below}";
        return $"IF({At(outcome.StateLine)}=0,{value},\"\")";
    }

    private string Over(OutcomeLines outcome, int by)
    {
        var below = Digits(outcome.Scale.Denominator);
        return $"IF({At(outcome.StateLine)}=0,{(by < 0 ? below : $"{At(by)}*{below}")},\"\")";
    }

    private string Band(string name)
    {
        var text = "\"\"";
        foreach (var band in _program.Bands.Where(b => b.Table.Outcome.Name == name))
        {
            string[] words =
            [
                .. band.Table.Bands.Select(b => b.Name),
                "undecided",
                "not applicable",
                "blocked",
                "no band",
            ];
            var form = band.Table.ShortForm ? "1" : "0";
            text =
                $"IF({On(_reading.Fields[_program.FormField])}={form},{_lists.Chosen(At(band.Line), words)},{text})";
        }

        return text;
    }

    private string Action(string name)
    {
        var lines = _program.Actions.First(a => a.Action.Name == name);
        return $"IF({At(lines.AppliesLine)},{_lists.Word("applies")},IF({At(lines.AppliesNotLine)},{_lists.Word("applies not")},{_lists.Word("undecided")}))";
    }

    private string Headline()
    {
        if (_program.HeadlineLine < 0 || _program.Actions.Count == 0)
        {
            return "\"\"";
        }

        var line = At(_program.HeadlineLine);
        return $"IF({line}<0,\"\",{_lists.Chosen(line, _program.Actions.Select(a => a.Action.Name))})";
    }

    /// <summary>A column for each answer that was not tried in words, then one for each value, then one for all.</summary>
    private string Reasons()
    {
        var words = _program.Kept.ToDictionary(
            k => k.Key,
            k =>
                _cells.Add(
                    k.Key + " untried",
                    "in words, or nothing",
                    $"IF({_lines[k.StateLine]}>=2,{_lists.Word(k.Key + " ")}&{_lists.StateWord(_lines[k.StateLine])}&\"; \",\"\")"
                ),
            StringComparer.Ordinal
        );
        var all = new List<string>();
        foreach (var outcome in _program.Outcomes)
        {
            var start = _lists.Word(outcome.Outcome.Name + ": ");
            var parts = ProgramReads
                .Of(_program, outcome)
                .Select(k => $"IF({words[k.Key]}=\"\",\"\",{start}&{words[k.Key]})")
                .ToList();
            if (parts.Count > 0)
            {
                var name = outcome.Outcome.Name + " reasons";
                var text = _cells.Joined(name, parts, g => string.Join('&', g));
                all.Add(_cells.Add(name, "what was not tried", text));
            }
        }

        var joined = all.Count == 0 ? "\"\"" : _cells.Joined("reasons", all, g => string.Join('&', g));
        return _cells.Add("reasons", "what was not tried", joined);
    }

    private string Guarded(string value) => $"IF({On(_right)},{value},\"\")";

    private string At(int line) => On(_lines[line]);

    private static string On(string cell) => $"{ScoringCells.Sheet}!{cell}";

    private static string Digits(BigInteger value) => value.ToString(CultureInfo.InvariantCulture);
}
