using System.Globalization;
using ProtocolKit.Emit.Code;
using ProtocolKit.Model;

namespace ProtocolKit.Verification.Targets.Tables;

/// <summary>
/// Emitted code that turns a table of records into a table of results. Each batch is written as such a table, with
/// the place of each record as its case.
/// </summary>
internal sealed class TableTarget(
    string name,
    Protocol protocol,
    ITableEngine engine,
    IReadOnlyList<int> traceOrder,
    NumberForm numbers
) : IScoringTarget
{
    private readonly IReadOnlyList<ResultColumn> _columns = ResultColumns.Of(protocol);
    private readonly IReadOnlyList<string> _keys = ResultColumns.OfRecords(protocol);

    public string Name => name;

    public NumberForm Numbers => numbers;

    public bool GivesTable => true;

    public int BatchSize => engine.BatchSize;

    public int MostRecords { get; init; } = int.MaxValue;

    public void Start()
    {
        engine.Start();
        try
        {
            Run([]);
        }
        catch (TargetFaultException e)
        {
            throw new TargetUnavailableException($"it does not take the code: {e.Message}", e);
        }
    }

    public IReadOnlyList<TargetAnswer> Run(IReadOnlyList<TrialRecord> records)
    {
        var rows = engine.Run([.. records.Select((r, i) => Row(r, i))]);
        if (rows.Count != records.Count)
        {
            throw new TargetFaultException($"{rows.Count} rows came out of {records.Count}.");
        }

        var answers = new TargetAnswer[records.Count];
        foreach (var (results, trace) in rows)
        {
            if (!int.TryParse(results[0], out var place) || place < 0 || place >= answers.Length)
            {
                throw new TargetFaultException($"a row came out with the case {results[0]}.");
            }

            answers[place] = Answer(results, trace);
        }

        return answers;
    }

    public void Dispose() => engine.Dispose();

    private string[] Row(TrialRecord record, int place)
    {
        var plain = record.Plain;
        var cells = plain.Answers.ToDictionary(a => a.Key, a => a.Text, StringComparer.Ordinal);
        foreach (var observation in plain.Observations)
        {
            cells[$"{RecordKeys.Observations}.{observation.Key}"] = observation.Text;
        }

        foreach (var question in plain.History)
        {
            cells[$"{RecordKeys.History}.{question.Key}"] = question.Text;
        }

        string[] start =
        [
            place.ToString("D7", CultureInfo.InvariantCulture),
            plain.AgeMonths.ToString(CultureInfo.InvariantCulture),
            plain.IsShortForm ? RecordKeys.Short : RecordKeys.Full,
        ];
        return [.. start, .. _keys.Skip(start.Length).Select(k => cells.GetValueOrDefault(k, ""))];
    }

    private TargetAnswer Answer(IReadOnlyList<string?> results, IReadOnlyList<string> trace)
    {
        var fields = protocol.Program.Fields.Count;
        var values = new string[fields + protocol.Program.Lines.Count];
        Array.Fill(values, "nothing");
        for (var i = 0; i < Math.Min(trace.Count, traceOrder.Count); i++)
        {
            values[traceOrder[i]] = trace[i];
        }

        return new TargetAnswer(values[fields..], values[..fields], [.. Outputs(results)]);
    }

    private IEnumerable<KeyValuePair<string, string>> Outputs(IReadOnlyList<string?> results)
    {
        var cells = _columns.Select((c, i) => (Column: c, Text: results[i])).ToList();
        for (var i = 0; i < cells.Count; i++)
        {
            var (column, text) = cells[i];
            switch (column.Part)
            {
                case ResultPart.State:
                    yield return Output($"score {column.Subject} state", text);
                    break;
                case ResultPart.Low or ResultPart.High:
                    var isOver = cells[i + 1].Column.Part is ResultPart.LowOver or ResultPart.HighOver;
                    var over = isOver && text is not null ? "/" + cells[i + 1].Text : "";
                    var end = column.Part == ResultPart.Low ? "low" : "high";
                    yield return Output($"score {column.Subject} {end}", text is null ? null : text + over);
                    break;
            }
        }

        // In the order of the record's form: another form may have its tables in another.
        var isShort = results[2] == RecordKeys.Short;
        foreach (var band in protocol.Program.Bands.Where(b => b.Table.ShortForm == isShort))
        {
            var name = band.Table.Outcome.Name;
            var text = cells.First(c => c.Column.Part == ResultPart.Band && c.Column.Subject == name).Text;
            yield return Output("band " + name, text);
        }

        foreach (var (column, text) in cells.Where(c => c.Column.Part == ResultPart.Action))
        {
            yield return Output("action " + column.Subject, text);
        }

        yield return Output("headline", cells.First(c => c.Column.Part == ResultPart.Headline).Text);
        yield return Output("reasons", cells.First(c => c.Column.Part == ResultPart.Reasons).Text ?? "");
        if (cells[^1].Text is { Length: > 0 } errors)
        {
            yield return Output("errors", errors);
        }
    }

    private static KeyValuePair<string, string> Output(string key, string? text) => new(key, text ?? "none");
}
