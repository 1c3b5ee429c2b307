using ProtocolKit.PilotGenerator;
using ProtocolKit.Workspace;

// Writes the invented pilot of the example again, from its truth:
//   dotnet run --project tests/ProtocolKit.PilotGenerator -- library/quillmere
var folder = args.Length > 0 ? args[0] : Path.Combine("library", "quillmere");
var pilot = Path.Combine(folder, "pilot");
var protocol =
    ProtocolFile.Open(Path.Combine(folder, "quillmere-screen.protocol")).Compilation.Protocol
    ?? throw new InvalidDataException("The protocol has errors: check it first.");
var truth = Truth.Read(File.ReadAllText(Path.Combine(pilot, "truth.json")));
var rows = new Pilot(truth, protocol).Rows().ToList();
File.WriteAllText(Path.Combine(pilot, "pilot.csv"), Pilot.Table(protocol, rows));
Console.WriteLine($"{rows.Count} rows written to {Path.Combine(pilot, "pilot.csv")}.");
