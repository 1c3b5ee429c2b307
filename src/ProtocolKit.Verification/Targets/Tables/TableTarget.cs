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
    private readonly RecordKeyLists _keys = new(protocol.Program);
    private readonly RowReader _reader = new(protocol);

    /// <summary>Where in a trace each field stands, then each line.</summary>
    private readonly int[] _fieldsInTrace = PlacesIn(traceOrder)[..protocol.Program.Fields.Count];
    private readonly int[] _linesInTrace = PlacesIn(traceOrder)[protocol.Program.Fields.Count..];

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

    private static int[] PlacesIn(IReadOnlyList<int> order)
    {
        var places = new int[order.Count];
        for (var i = 0; i < places.Length; i++)
        {
            places[order[i]] = i;
        }

        return places;
    }

    /// <summary>In the order of <see cref="ResultColumns.OfRecords"/>.</summary>
    private string[] Row(TrialRecord record, int place)
    {
        var plain = record.Plain;
        return
        [
            place.ToString("D7", CultureInfo.InvariantCulture),
            plain.AgeMonths.ToString(CultureInfo.InvariantCulture),
            plain.IsShortForm ? RecordKeys.Short : RecordKeys.Full,
            .. _keys.History(plain).Select(h => h?.Text ?? ""),
            .. _keys.Answers(plain).Select(a => a?.Text ?? ""),
            .. _keys.Observations(plain).Select(o => o?.Text ?? ""),
        ];
    }

    private TargetAnswer Answer(IReadOnlyList<string?> results, string trace)
    {
        var numbers = SaidNumbers.Read(trace);
        return new TargetAnswer(
            numbers.At(_linesInTrace),
            numbers.At(_fieldsInTrace),
            _reader.Outputs(results)
        );
    }
}
