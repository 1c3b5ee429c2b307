using System.Diagnostics;
using System.Globalization;
using ProtocolKit.Fuzz;

// How often, and from which number: dotnet run -c Release --project tests/ProtocolKit.Fuzz -- 10000000 1
var texts = args.Length > 0 ? long.Parse(args[0], CultureInfo.InvariantCulture) : 100_000;
var number = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1;
var seeds = Seed.In(Repository());
Console.WriteLine(
    $"{texts:N0} texts, number {number}, from {seeds.Count} texts of {seeds.Sum(s => s.Text.Length):N0} characters."
);

var clock = Stopwatch.StartNew();
LaneResult? result = null;

// The smallest stack that a user's machine gives: what nests too deep must be refused before it ends.
var thread = new Thread(
    () =>
        result = new Lane(seeds, number).Run(
            texts,
            done =>
            {
                if (done % 250_000 == 0)
                {
                    Console.WriteLine(
                        $"{done:N0} after {clock.Elapsed.TotalSeconds:0} s, {Environment.WorkingSet >> 20} MB"
                    );
                }
            }
        ),
    1024 * 1024
);
thread.Start();
thread.Join();

Console.WriteLine(
    $"{result!.Texts:N0} texts in {clock.Elapsed.TotalSeconds:0} s, {result.Texts / clock.Elapsed.TotalSeconds:0} a second. "
        + $"{result.Protocols:N0} without any finding, {result.Ways:N0} different sets of findings, {result.Kept:N0} texts kept. "
        + $"Slowest {result.Slowest.TotalMilliseconds:0} ms, most memory taken by one {result.MostBytes >> 20} MB, "
        + $"{Environment.WorkingSet >> 20} MB held at the end."
);

// The first of each kind is shown; a fault's kind is what it says up to the first number or place.
foreach (var fault in result.Faults.DistinctBy(f => string.Concat(f.What.TakeWhile(c => !char.IsDigit(c)))))
{
    Console.WriteLine(
        $"\nText {fault.Index:N0}, begun from {fault.Seed}: {fault.What}\n----\n{fault.Text}\n----"
    );
}

Console.WriteLine($"{result.Faults.Count} faults.");
return result.Faults.Count == 0 ? 0 : 1;

static string Repository()
{
    var folder = new DirectoryInfo(AppContext.BaseDirectory);
    while (!File.Exists(Path.Combine(folder.FullName, "ProtocolKit.sln")))
    {
        folder = folder.Parent ?? throw new InvalidOperationException("The top folder was not found.");
    }

    return folder.FullName;
}
