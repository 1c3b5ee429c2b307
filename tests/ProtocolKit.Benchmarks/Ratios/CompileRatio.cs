using System.Globalization;
using ProtocolKit.Benchmarks.Generated;
using ProtocolKit.Language;
using YamlDotNet.RepresentationModel;

namespace ProtocolKit.Benchmarks.Ratios;

/// <summary>Compiling a large protocol beside YamlDotNet merely loading the same content.</summary>
internal static class CompileRatio
{
    public const int Tasks = 2000;
    public const double Target = 1.5;

    public static Compilation Compile(SourceText source) => Compilation.Of(source, new NoModules());

    public static YamlStream Load(string yaml)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(yaml));
        return stream;
    }

    /// <summary>Prints the table; gives whether the target is met.</summary>
    public static bool Print(TextWriter output, int runs)
    {
        var text = LargeProtocol.Write(Tasks);
        var (protocol, yaml) = (text.Protocol, text.Yaml);
        var source = new SourceText("large.protocol", protocol);
        var compiled = Compile(source);
        if (compiled.Protocol is not { } model)
        {
            throw new InvalidOperationException(
                "The generated protocol does not compile: " + compiled.Diagnostics[0]
            );
        }

        var (ours, theirs, ratio) = Median.InTurn(() => Compile(source), () => Load(yaml), runs, warmUps: 5);
        var format = CultureInfo.InvariantCulture;
        output.WriteLine(
            $"compile: {model.Tasks.Count} tasks, {model.Program.Answers.Count} answers, {model.CutOffs.Count} cut-off tables"
        );
        output.WriteLine(
            string.Create(
                format,
                $"  protocol text      {protocol.Length / 1000.0, 8:F0} kB  compiled {ours, 8:F1} ms"
            )
        );
        output.WriteLine(
            string.Create(
                format,
                $"  same as YAML       {yaml.Length / 1000.0, 8:F0} kB  loaded   {theirs, 8:F1} ms"
            )
        );
        output.WriteLine(
            string.Create(format, $"  ratio {ratio:F2} (at most {Target:F1}), medians of {runs} runs in turn")
        );
        return ratio <= Target;
    }
}
