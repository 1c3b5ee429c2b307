using System.Text.Json;
using System.Text.Json.Nodes;
using ProtocolKit.Model;

namespace ProtocolKit.Verification.Targets.Fhir;

/// <summary>
/// FHIRPath in npm's fhirpath, run by Node. It is looked for where Node looks from the folder verify is started in; it never comes
/// with ProtocolKit.
/// </summary>
/// <param name="modules">A folder that holds node_modules; empty for the current one.</param>
internal sealed class NpmFhirPathEngine(Protocol protocol, string questionnaire, string node, string modules)
    : FhirEngine(protocol, questionnaire)
{
    private readonly string _questionnaire = questionnaire;
    private EngineProcess? _engine;

    public override void Start()
    {
        var folder = Path.GetFullPath(modules.Length == 0 ? "." : modules);
        _engine = new EngineProcess(
            new EngineCommand("Node", node, ["--stack-size=4000", "fhirpath.mjs", folder], ["NODE_OPTIONS"]),
            [("questionnaire.json", _questionnaire), ("fhirpath.mjs", HarnessText.Of("fhirpath.mjs"))]
        );
        try
        {
            Fill([]);
        }
        catch (TargetFaultException e)
            when (e.Message.Contains("Cannot find module", StringComparison.Ordinal))
        {
            throw new TargetUnavailableException(
                "npm's fhirpath isn't installed where verify was started.",
                e
            )
            {
                IsMissing = true,
            };
        }
    }

    protected override IReadOnlyList<IReadOnlyDictionary<string, string>> Fill(
        IReadOnlyList<JsonObject> responses
    )
    {
        var answer = _engine!.Ask(new JsonArray([.. responses]).ToJsonString());
        using var json = JsonDocument.Parse(answer);
        return
        [
            .. json
                .RootElement.EnumerateArray()
                .Select(o =>
                    o.EnumerateObject().ToDictionary(v => v.Name, v => Text(v.Value), StringComparer.Ordinal)
                ),
        ];
    }

    public override void Dispose() => _engine?.Dispose();

    private static string Text(JsonElement value) =>
        value.ValueKind == JsonValueKind.String ? value.GetString()! : value.GetRawText();
}
