using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Hl7.Fhir.ElementModel;
using Hl7.Fhir.Model;
using Hl7.Fhir.Serialization;
using Hl7.FhirPath;
using Protocol = ProtocolKit.Model.Protocol;

namespace ProtocolKit.Verification.Targets.Fhir;

/// <summary>FHIRPath in Firely's engine, within this process; always there.</summary>
internal sealed class FirelyEngine(Protocol protocol, string questionnaire)
    : FhirEngine(protocol, questionnaire)
{
    private const string Variable = "http://hl7.org/fhir/StructureDefinition/variable";
    private const string Calculated =
        "http://hl7.org/fhir/uv/sdc/StructureDefinition/sdc-questionnaire-calculatedExpression";

    private static readonly JsonSerializerOptions Json = new JsonSerializerOptions().ForFhir();

    private readonly string _questionnaire = questionnaire;
    private readonly List<(string Name, CompiledExpression Run)> _variables = [];
    private readonly List<(string LinkId, CompiledExpression Run)> _items = [];

    public override void Start()
    {
        try
        {
            var form = JsonSerializer.Deserialize<Questionnaire>(_questionnaire, Json)!;
            var compiler = new FhirPathCompiler();
            _variables.AddRange(
                form.GetExtensions(Variable).Select(e => (Of(e).Name!, compiler.Compile(Of(e).Expression_)))
            );
            _items.AddRange(
                form.Item.SelectMany(g => g.Item)
                    .Where(i => i.GetExtension(Calculated) is not null)
                    .Select(i => (i.LinkId!, compiler.Compile(Of(i.GetExtension(Calculated)!).Expression_)))
            );
        }
        catch (Exception e) when (e is DeserializationFailedException or FormatException)
        {
            throw new TargetUnavailableException($"Firely does not take the questionnaire: {e.Message}", e);
        }
    }

    protected override IReadOnlyList<IReadOnlyDictionary<string, string>> Fill(
        IReadOnlyList<JsonObject> responses
    ) =>
        [
            .. responses
                .AsParallel()
                .AsOrdered()
                .Select(r =>
                    Fill(JsonSerializer.Deserialize<QuestionnaireResponse>(r.ToJsonString(), Json)!)
                ),
        ];

    /// <summary>The value of each variable and calculated item of one response.</summary>
    public IReadOnlyDictionary<string, string> Filled(JsonObject response) => Fill([response])[0];

    public override void Dispose()
    {
        _variables.Clear();
        _items.Clear();
    }

    private static Expression Of(Extension extension) => (Expression)extension.Value!;

    private Dictionary<string, string> Fill(QuestionnaireResponse response)
    {
        var values = new Dictionary<string, string>(StringComparer.Ordinal);
        var node = response.ToPocoNode();
        var context = new EvaluationContext().WithResourceOverrides(node);
        foreach (var (name, run) in _variables)
        {
            context.Environment[name] = Run("%" + name, run);
        }

        foreach (var (linkId, run) in _items)
        {
            Run(linkId, run);
        }

        return values;

        List<PocoNode> Run(string name, CompiledExpression run)
        {
            try
            {
                var said = run(node, context).ToList();
                if (said.Count > 1)
                {
                    throw new TargetFaultException($"{name} has {said.Count} values.");
                }

                if (said.Count == 1)
                {
                    values[name] = Text(((ITypedElement)said[0]).Value);
                }

                return said;
            }
            catch (Exception e)
                when (e
                        is InvalidOperationException
                            or ArgumentException
                            or OverflowException
                            or FormatException
                )
            {
                throw new TargetFaultException($"{name}: {e.Message}", e);
            }
        }
    }

    private static string Text(object? value) =>
        value is bool truth
            ? (truth ? "true" : "false")
            : Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
}
