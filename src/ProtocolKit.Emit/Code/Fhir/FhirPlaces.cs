using System.Text.Json.Nodes;

namespace ProtocolKit.Emit.Code.Fhir;

/// <summary>
/// Where items stand, and the FHIRPath that reads their answers: every one lies in a group of the first level.
/// </summary>
internal sealed class FhirPlaces(JsonObject questionnaire)
{
    private JsonObject? _routing;

    public FhirVariables Variables { get; } = new(questionnaire);

    /// <summary>Adds a group of the first level.</summary>
    public JsonObject Group(string linkId, string text)
    {
        var group = FhirItems.Group(linkId, text);
        questionnaire.Add(group);
        return group;
    }

    /// <summary>Adds a question to its group and tells how its answer's value is read.</summary>
    public static string Add(JsonObject group, JsonObject item)
    {
        group.Add(item);
        var (outer, inner) = (group["linkId"]!.GetValue<string>(), item["linkId"]!.GetValue<string>());
        return $"%resource.item.where(linkId={FhirText.Quote(outer)}).item.where(linkId={FhirText.Quote(inner)}).answer.value";
    }

    /// <summary>The link id of such a hidden item.</summary>
    public static string RouteId(string name) => "routing/" + name;

    /// <summary>Adds a hidden item with a variable's value, as <c>enableWhen</c> reads items alone; gives its link id.</summary>
    public string Route(string name, string type, string variable)
    {
        _routing ??= Group("routing", "Which tasks are given").Hidden();
        var linkId = RouteId(name);
        if (!FhirResponse.Items(_routing).Any(i => FhirResponse.Text(i, "linkId") == linkId))
        {
            _routing.Add(FhirItems.Item(linkId, name, type).Calculated(variable, name).Hidden());
        }

        return linkId;
    }
}
