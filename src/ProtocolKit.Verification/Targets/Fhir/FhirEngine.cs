using System.Text.Json.Nodes;
using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Code.Fhir;
using ProtocolKit.Model;
using ProtocolKit.Verification.Targets.Tables;

namespace ProtocolKit.Verification.Targets.Fhir;

/// <summary>
/// Works the emitted questionnaire as a form filler does: a response with the answers of a row, then the
/// questionnaire's variables in their order and its calculated items.
/// </summary>
internal abstract class FhirEngine(Protocol protocol, string questionnaire) : ITableEngine
{
    private readonly IReadOnlyList<string> _keys = ResultColumns.OfRecords(protocol);
    private readonly IReadOnlyList<ResultColumn> _columns = ResultColumns.Of(protocol);
    private readonly JsonObject _questionnaire = JsonNode.Parse(questionnaire)!.AsObject();
    private readonly IReadOnlyList<string> _trace = FhirOutput.VariableNames(protocol);

    /// <summary>Few: on a busy machine an engine in a process of its own must answer in time.</summary>
    public int BatchSize => 4;

    protected JsonObject Questionnaire => _questionnaire;

    public abstract void Start();

    /// <summary>The value of each variable (% and its name) and of each calculated item (its link id) that has one, for each response.</summary>
    /// <exception cref="TargetFaultException">An expression failed.</exception>
    protected abstract IReadOnlyList<IReadOnlyDictionary<string, string>> Fill(
        IReadOnlyList<JsonObject> responses
    );

    public IReadOnlyList<TableRow> Run(IReadOnlyList<string[]> rows)
    {
        var filled = Fill([.. rows.Select(Response)]);
        return [.. rows.Zip(filled, Row)];
    }

    public abstract void Dispose();

    private JsonObject Response(string[] row)
    {
        var cells = _keys
            .Select((k, i) => (k, row[i]))
            .ToDictionary(c => c.k, c => c.Item2, StringComparer.Ordinal);
        return FhirResponse.Of(_questionnaire, k => cells.GetValueOrDefault(k));
    }

    private TableRow Row(string[] row, IReadOnlyDictionary<string, string> values) =>
        new(
            [.. _columns.Select(c => Cell(c, row, values))],
            string.Join(',', _trace.Select(t => Number(values.GetValueOrDefault("%" + t))))
        );

    private static string? Cell(
        ResultColumn column,
        string[] row,
        IReadOnlyDictionary<string, string> values
    ) =>
        column.Part switch
        {
            ResultPart.Case => row[0],
            ResultPart.AgeMonths => row[1],
            ResultPart.Form => row[2],
            ResultPart.Reasons => values.TryGetValue(FhirOutput.ResultId(column), out var reasons)
                ? reasons + "; "
                : "",
            _ => values.GetValueOrDefault(FhirOutput.ResultId(column)),
        };

    private static string Number(string? value) =>
        value switch
        {
            null => "nothing",
            "true" => "1",
            "false" => "0",
            _ => value,
        };
}
