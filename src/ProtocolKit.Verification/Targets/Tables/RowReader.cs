using ProtocolKit.Emit.Code;
using ProtocolKit.Model;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>Reads a row of results as outputs: which cells make which output is worked out once a form.</summary>
internal sealed class RowReader
{
    private const int FormColumn = 2;

    private readonly List<ResultColumn> _columns;
    private readonly Cell[] _full;
    private readonly Cell[] _short;

    public RowReader(Protocol protocol)
    {
        _columns = [.. ResultColumns.Of(protocol)];
        _full = [.. Cells(protocol, isShort: false)];
        _short = [.. Cells(protocol, isShort: true)];
    }

    /// <summary>In the order in which the reference says them.</summary>
    public IReadOnlyList<KeyValuePair<string, string>> Outputs(IReadOnlyList<string?> results)
    {
        var outputs = new List<KeyValuePair<string, string>>(_full.Length + 1);
        foreach (var cell in results[FormColumn] == RecordKeys.Short ? _short : _full)
        {
            var text = results[cell.Column];
            var over = cell.Over < 0 || text is null ? "" : "/" + results[cell.Over];
            outputs.Add(new(cell.Key, text is null ? cell.Blank : text + over));
        }

        if (results[^1] is { Length: > 0 } errors)
        {
            outputs.Add(new("errors", errors));
        }

        return outputs;
    }

    private IEnumerable<Cell> Cells(Protocol protocol, bool isShort)
    {
        for (var i = 0; i < _columns.Count; i++)
        {
            var subject = _columns[i].Subject;
            switch (_columns[i].Part)
            {
                case ResultPart.State:
                    yield return new Cell($"score {subject} state", i);
                    break;
                case ResultPart.Low:
                    yield return new Cell($"score {subject} low", i) { Over = Over(i, ResultPart.LowOver) };
                    break;
                case ResultPart.High:
                    yield return new Cell($"score {subject} high", i) { Over = Over(i, ResultPart.HighOver) };
                    break;
            }
        }

        // In the order of the record's form: another form may have its tables in another.
        foreach (var band in protocol.Program.Bands.Where(b => b.Table.ShortForm == isShort))
        {
            var name = band.Table.Outcome.Name;
            yield return new Cell("band " + name, Place(ResultPart.Band, name));
        }

        foreach (var action in protocol.Program.Actions.Select(a => a.Action.Name))
        {
            yield return new Cell("action " + action, Place(ResultPart.Action, action));
        }

        yield return new Cell("headline", Place(ResultPart.Headline, ""));
        yield return new Cell("reasons", Place(ResultPart.Reasons, "")) { Blank = "" };
    }

    /// <summary>The column that divides this one, or -1.</summary>
    private int Over(int column, ResultPart part) => _columns[column + 1].Part == part ? column + 1 : -1;

    private int Place(ResultPart part, string subject) =>
        _columns.FindIndex(c => c.Part == part && c.Subject == subject);

    private sealed record Cell(string Key, int Column)
    {
        /// <summary>The column with what its number is divided by, or -1.</summary>
        public int Over { get; init; } = -1;

        /// <summary>What an empty cell says.</summary>
        public string Blank { get; init; } = "none";
    }
}
