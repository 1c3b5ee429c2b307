using BenchmarkDotNet.Attributes;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Benchmarks.Ratios;
using ProtocolKit.Language;

namespace ProtocolKit.Benchmarks;

/// <summary>The compile ratio at several sizes, with what is allocated on the way.</summary>
[MemoryDiagnoser]
public class CompileBenchmarks
{
    private SourceText _source = new("large.protocol", "");
    private string _yaml = "";

    [Params(200, 2000)]
    public int Tasks { get; set; }

    [GlobalSetup]
    public void Write()
    {
        var text = LargeProtocol.Write(Tasks);
        _source = new SourceText("large.protocol", text.Protocol);
        _yaml = text.Yaml;
    }

    [Benchmark(Baseline = true)]
    public object LoadYaml() => CompileRatio.Load(_yaml);

    [Benchmark]
    public object CompileProtocol() => CompileRatio.Compile(_source);
}
