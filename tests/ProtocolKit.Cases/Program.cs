using System.Text.Json;
using ProtocolKit.Cases;

// ProtocolKit.Cases <case.json> [...]: computes what each case asks for and prints it under the case's own keys.
// One file gives one object, several an array in their order. "-" reads a case from standard input.
if (args.Length == 0)
{
    Console.Error.WriteLine(
        "usage: ProtocolKit.Cases <case.json> [more.json ...]   (\"-\" reads standard input)"
    );
    return 2;
}

var results = args.Select(a => Answering.Answer(a == "-" ? Console.In.ReadToEnd() : Files.Read(a))).ToList();
using (var output = Console.OpenStandardOutput())
using (var writer = new Utf8JsonWriter(output, Json.Indented))
{
    if (results.Count == 1)
    {
        results[0].WriteTo(writer);
    }
    else
    {
        writer.WriteStartArray();
        results.ForEach(r => r.WriteTo(writer));
        writer.WriteEndArray();
    }
}

Console.Out.WriteLine();
return results.All(r => r["error"] is null) ? 0 : 1;
