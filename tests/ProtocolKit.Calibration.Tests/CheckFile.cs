using System.Text.Json.Nodes;

namespace ProtocolKit.Calibration.Tests;

/// <summary>The checks from outside: cases with data, sources, and figures published or recomputed by other programs.</summary>
public static class CheckFile
{
    public static IEnumerable<string> Ids =>
        Directory
            .GetFiles(Folder, "*.json")
            .Select(f => Path.GetFileNameWithoutExtension(f))
            .Order(StringComparer.Ordinal);

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "Checks");

    public static string Text(string id) => File.ReadAllText(Path.Combine(Folder, id + ".json"));

    public static JsonObject Read(string id) => JsonNode.Parse(Text(id))!.AsObject();
}
