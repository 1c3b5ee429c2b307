using System.Globalization;
using ProtocolKit.Emit.Code;
using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Batch;

/// <summary>Writes rows of results, in the columns of every target that gives a table.</summary>
internal sealed class ResultWriter
{
    private readonly List<Action<TextWriter, int>> _cells = [];
    private readonly List<int> _wanted = [];
    private readonly Dictionary<int, int> _places = [];
    private readonly ScoringProgram _program;
    private RowBlock _block = null!;

    public ResultWriter(Protocol protocol)
    {
        _program = protocol.Program;
        Header = string.Join(',', ResultColumns.Of(protocol).Select(c => c.Name));
        foreach (var column in ResultColumns.Of(protocol))
        {
            _cells.Add(Cell(column));
        }
    }

    public string Header { get; }

    /// <summary>The lines the results are made of.</summary>
    public IReadOnlyList<int> Wanted => _wanted;

    public void Write(TextWriter writer, RowBlock block)
    {
        _block = block;
        for (var row = 0; row < block.Count; row++)
        {
            for (var i = 0; i < _cells.Count; i++)
            {
                if (i > 0)
                {
                    writer.Write(',');
                }

                _cells[i](writer, row);
            }

            writer.Write('\n');
        }
    }

    private Action<TextWriter, int> Cell(ResultColumn column)
    {
        var outcome = _program.Outcomes.FirstOrDefault(o => o.Outcome.Name == column.Subject);
        return column.Part switch
        {
            ResultPart.Case => (w, r) => w.Write(_block.Cases[r]),
            ResultPart.AgeMonths => (w, r) => w.Write(_block.Fields[_program.AgeField][r]),
            ResultPart.Form => (w, r) =>
                w.Write(_block.Fields[_program.FormField][r] == 1 ? RecordKeys.Short : RecordKeys.Full),
            ResultPart.State => Words(
                outcome!.StateLine,
                [.. Enum.GetValues<State>().Select(s => s.ToWords())]
            ),
            ResultPart.Low => End(outcome!, outcome!.LowLine),
            ResultPart.High => End(outcome!, outcome!.HighLine),
            ResultPart.LowOver => Over(outcome!, outcome!.LowDenominatorLine),
            ResultPart.HighOver => Over(outcome!, outcome!.HighDenominatorLine),
            ResultPart.Band => Band(column.Subject),
            ResultPart.Action => Decision(_program.Actions.First(a => a.Action.Name == column.Subject)),
            ResultPart.Headline => Headline(),
            ResultPart.Reasons => Reasons(),
            _ => (_, _) => { },
        };
    }

    private Action<TextWriter, int> Words(int line, string[] words)
    {
        var at = Want(line);
        return (w, r) => w.Write(words[_block.Results[at][r]]);
    }

    private Action<TextWriter, int> End(OutcomeLines outcome, int line)
    {
        var (state, at) = (Want(outcome.StateLine), Want(line));
        var isFraction = ResultColumns.IsFraction(outcome);
        var above = (long)outcome.Scale.Numerator;
        var texts = new Dictionary<long, string>();
        return (w, r) =>
        {
            if (_block.Results[state][r] != 0)
            {
                return;
            }

            var value = _block.Results[at][r];
            if (isFraction)
            {
                w.Write(value * above);
                return;
            }

            if (!texts.TryGetValue(value, out var text))
            {
                text = (value * outcome.Scale).ToString();
                if (texts.Count < 100_000)
                {
                    texts.Add(value, text);
                }
            }

            w.Write(text);
        };
    }

    private Action<TextWriter, int> Over(OutcomeLines outcome, int by)
    {
        var state = Want(outcome.StateLine);
        var at = by < 0 ? -1 : Want(by);
        var below = (long)outcome.Scale.Denominator;
        return (w, r) =>
        {
            if (_block.Results[state][r] == 0)
            {
                w.Write(below * (at < 0 ? 1 : _block.Results[at][r]));
            }
        };
    }

    private Action<TextWriter, int> Band(string name)
    {
        var tables = _program
            .Bands.Where(b => b.Table.Outcome.Name == name)
            .Select(b =>
                (
                    b.Table.ShortForm,
                    At: Want(b.Line),
                    Words: (string[])
                        [
                            .. b.Table.Bands.Select(x => x.Name),
                            "undecided",
                            "not applicable",
                            "blocked",
                            "no band",
                        ]
                )
            )
            .ToList();
        return (w, r) =>
        {
            var isShort = _block.Fields[_program.FormField][r] == 1;
            foreach (var table in tables)
            {
                if (table.ShortForm == isShort)
                {
                    w.Write(table.Words[_block.Results[table.At][r]]);
                }
            }
        };
    }

    private Action<TextWriter, int> Decision(ActionLines action)
    {
        var (applies, not) = (Want(action.AppliesLine), Want(action.AppliesNotLine));
        return (w, r) =>
            w.Write(
                _block.Results[applies][r] == 1 ? "applies"
                : _block.Results[not][r] == 1 ? "applies not"
                : "undecided"
            );
    }

    private Action<TextWriter, int> Headline()
    {
        if (_program.HeadlineLine < 0)
        {
            return (_, _) => { };
        }

        var at = Want(_program.HeadlineLine);
        return (w, r) =>
        {
            if (_block.Results[at][r] is var first and >= 0)
            {
                w.Write(_program.Actions[(int)first].Action.Name);
            }
        };
    }

    private Action<TextWriter, int> Reasons()
    {
        var reads = _program
            .Outcomes.SelectMany(o =>
                ProgramReads
                    .Of(_program, o)
                    .Select(k => (At: Want(k.StateLine), Start: $"{o.Outcome.Name}: {k.Key} "))
            )
            .ToList();
        string[] states = [.. Enum.GetValues<State>().Select(s => s.ToWords() + "; ")];
        return (w, r) =>
        {
            foreach (var (at, start) in reads)
            {
                if (_block.Results[at][r] is var state and >= (long)State.NotPlanned)
                {
                    w.Write(start);
                    w.Write(states[state]);
                }
            }
        };
    }

    private int Want(int line)
    {
        if (!_places.TryGetValue(line, out var place))
        {
            place = _wanted.Count;
            _places.Add(line, place);
            _wanted.Add(line);
        }

        return place;
    }
}
