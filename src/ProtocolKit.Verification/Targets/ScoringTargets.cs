using ProtocolKit.Emit.Code;
using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Code.JavaScript;
using ProtocolKit.Emit.Code.Python;
using ProtocolKit.Model;

namespace ProtocolKit.Verification.Targets;

/// <summary>Every target there is, in the order in which they run. To add one: a line in <see cref="All"/>.</summary>
internal static class ScoringTargets
{
    private static readonly IReadOnlyList<(string Name, Func<Maker, IScoringTarget> Make)> All =
    [
        ("csharp", m => new CSharpTarget(m.Code(new CSharpOutput()), CSharpOutput.TypeName(m.Protocol))),
        ("javascript-jint", m => new JintTarget(m.Code(new JavaScriptOutput()))),
        ("javascript-node", m => ProcessTarget.Node(m.Code(new JavaScriptOutput()), m.Program("node"))),
        ("python", m => ProcessTarget.Python(m.Code(new PythonOutput()), m.Program("python3"))),
    ];

    public static IReadOnlyList<string> Names { get; } = [.. All.Select(t => t.Name)];

    /// <exception cref="Emit.OutputRefusedException">The target can't hold the protocol.</exception>
    /// <exception cref="Emit.Templating.TemplateFaultException">A template is at fault.</exception>
    public static IScoringTarget Make(string name, Protocol protocol, VerifyOptions options) =>
        All.First(t => t.Name == name).Make(new Maker(protocol, options));

    /// <summary>What a target is made from.</summary>
    private sealed record Maker(Protocol Protocol, VerifyOptions Options)
    {
        public string Code(CodeOutput output) =>
            Options.Code is { } code ? code(output) : output.Text(Protocol, Options.Templates);

        public string Program(string name) => Options.Programs.GetValueOrDefault(name, name);
    }
}
