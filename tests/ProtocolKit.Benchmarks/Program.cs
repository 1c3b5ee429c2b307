using System.Globalization;
using BenchmarkDotNet.Running;
using ProtocolKit.Benchmarks.Batch;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Benchmarks.Page;
using ProtocolKit.Benchmarks.Proof;
using ProtocolKit.Benchmarks.Ratios;
using ProtocolKit.Benchmarks.Statistics;

switch (args)
{
    case ["ratios", .. var rest]:
        var which = rest.FirstOrDefault(r => !char.IsAsciiDigit(r[0])) ?? "all";
        var runs = rest.Where(r => char.IsAsciiDigit(r[0]))
            .Select(r => int.Parse(r, CultureInfo.InvariantCulture));
        var times = runs.FirstOrDefault(15);
        var compiled = which is "start" or "edits" || CompileRatio.Print(Console.Out, times);
        compiled &= which == "start" || EditRatio.Print(Console.Out, times);
        var started = which is "compile" or "edits" || StartRatio.Print(Console.Out, times);
        return compiled && started ? 0 : 1;

    // One-character edits at random places: how many, and the seed.
    case ["random-edits", .. var rest]:
        var numbers = rest.Select(r => int.Parse(r, CultureInfo.InvariantCulture)).ToList();
        RandomEdits.Print(Console.Out, numbers.FirstOrDefault(200), numbers.Skip(1).FirstOrDefault(1));
        return 0;

    // The statistics beside R, where Rscript is installed.
    case ["statistics", .. var rest]:
        StatisticsRatio.Print(
            Console.Out,
            rest.Length > 0 ? int.Parse(rest[0], CultureInfo.InvariantCulture) : 7
        );
        return 0;

    // The sitting page in the installed browser, from the checkout's own folder.
    case ["page", .. var rest]:
        await PageSpeed.PrintAsync(
            Console.Out,
            rest.Length > 0 ? int.Parse(rest[0], CultureInfo.InvariantCulture) : 7
        );
        return 0;

    // Tables of many rows, from the checkout's own folder: how many rows, and which parts (loop, columns, formulas, files).
    case ["batch", .. var rest]:
        var rows = rest.Where(r => char.IsAsciiDigit(r[0]))
            .Select(r => int.Parse(r, CultureInfo.InvariantCulture));
        var parts = rest.Where(r => !char.IsAsciiDigit(r[0])).ToList();
        return BatchSpeed.Print(Console.Out, rows.FirstOrDefault(1_000_000), parts) ? 0 : 1;

    // What is proved of generated protocols of 60, 300 and 600 tasks, or of those sizes that are named.
    case ["proof", .. var rest]:
        ProofTable.Print(
            Console.Out,
            rest.Length > 0
                ? [.. rest.Select(r => int.Parse(r, CultureInfo.InvariantCulture))]
                : [60, 300, 600]
        );
        return 0;

    // Where the time goes, for one generated protocol.
    case ["stages", var tasks, .. var rest]:
        StageTimes.Print(
            Console.Out,
            ProofTable.Compiled(int.Parse(tasks, CultureInfo.InvariantCulture)),
            rest.Length > 0 ? int.Parse(rest[0], CultureInfo.InvariantCulture) : 1
        );
        return 0;

    // To look at what is measured: the protocol on standard output, the YAML on standard error.
    case ["write"]:
        var text = LargeProtocol.Write(CompileRatio.Tasks);
        Console.Out.Write(text.Protocol);
        Console.Error.Write(text.Yaml);
        return 0;

    default:
        BenchmarkSwitcher.FromAssembly(typeof(CompileRatio).Assembly).Run(args);
        return 0;
}
