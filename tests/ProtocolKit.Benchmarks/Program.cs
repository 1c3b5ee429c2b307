using System.Globalization;
using BenchmarkDotNet.Running;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Benchmarks.Ratios;

switch (args)
{
    case ["ratios", .. var rest]:
        var runs = rest.Length > 0 ? int.Parse(rest[0], CultureInfo.InvariantCulture) : 15;
        return CompileRatio.Print(Console.Out, runs) ? 0 : 1;

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
