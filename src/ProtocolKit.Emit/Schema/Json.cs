using System.Text.Json.Nodes;

namespace ProtocolKit.Emit.Schema;

/// <summary>The shapes a schema is made of. Every call makes new nodes: a node has one parent.</summary>
internal static class Json
{
    public static JsonArray Texts(IEnumerable<string> texts) => [.. texts.Select(t => (JsonNode)t)];

    public static JsonObject Const(string text) => new() { ["const"] = text };

    public static JsonObject Enum(IEnumerable<string> texts) => new() { ["enum"] = Texts(texts) };

    public static JsonObject Text() => new() { ["type"] = "string", ["pattern"] = "\\S" };

    public static JsonObject TextOrNumber() =>
        new() { ["type"] = Texts(["string", "number"]), ["pattern"] = "\\S" };

    public static JsonObject Reference(string name) => new() { ["$ref"] = "#/$defs/" + name };

    public static JsonObject Any(params JsonObject[] schemas) =>
        new() { ["anyOf"] = new JsonArray([.. schemas]) };

    public static JsonObject Nothing() => new() { ["type"] = "null" };

    /// <summary>An object with these keys and no others.</summary>
    public static JsonObject Map(JsonObject properties, params string[] required)
    {
        var map = new JsonObject
        {
            ["type"] = "object",
            ["additionalProperties"] = false,
            ["properties"] = properties,
        };
        if (required.Length > 0)
        {
            map["required"] = Texts(required);
        }

        return map;
    }

    /// <summary>An object with the same schema under each of these keys.</summary>
    public static JsonObject Map(IEnumerable<string> keys, Func<string, JsonObject> schema)
    {
        var properties = new JsonObject();
        foreach (var key in keys)
        {
            properties[key] = schema(key);
        }

        return Map(properties);
    }

    public static JsonObject List(JsonObject item, int least = 0, int? most = null)
    {
        var list = new JsonObject { ["type"] = "array", ["items"] = item };
        if (least > 0)
        {
            list["minItems"] = least;
        }

        if (most is not null)
        {
            list["maxItems"] = most;
        }

        return list;
    }
}
