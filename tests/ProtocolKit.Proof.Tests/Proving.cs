using System.Globalization;
using ProtocolKit.Language;
using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.TestPrograms;

namespace ProtocolKit.Proof.Tests;

/// <summary>A text compiled and proved, with what its tests ask of the result.</summary>
internal sealed class Proving
{
    private Proving(string text)
    {
        Protocol = Compiled(text);
        Report = Prover.Prove(Protocol);
    }

    public Protocol Protocol { get; }
    public ProofReport Report { get; }

    public static Protocol Compiled(string text)
    {
        var compilation = Compilation.Of(new SourceText("tiny.protocol", text), new NoModules());
        return compilation.Protocol
            ?? throw new InvalidOperationException(
                string.Concat(compilation.Diagnostics.Select(DiagnosticText.Render))
            );
    }

    public static Proving Text(string text) => new(text);

    public static Proving Fragment(string fragment, string ages = FragmentPrelude.Ages) =>
        new(FragmentPrelude.Before(fragment, ages));

    public IEnumerable<ProofFinding> Of(ProofKind kind) => Report.Findings.Where(f => f.Kind == kind);

    public IEnumerable<ProofKind> Kinds => Report.Findings.Select(f => f.Kind).Distinct();

    public IEnumerable<Rational> Set(string name, bool untried = false) =>
        Report
            .Sets.Where(s => s.Outcome.Name == name && s.Untried == untried && !s.ShortForm)
            .SelectMany(s => s.Values)
            .Distinct()
            .Order();

    /// <summary>Points or options by key, as a record would hold them: <c>a.rate=2 b.rate=refused</c>.</summary>
    public string Record(ProofSitting sitting) =>
        string.Join(
            ' ',
            Protocol
                .Program.Answers.Where(a => sitting.Fields[a.StateField] != 1)
                .Select(a => $"{a.Key}={Value(a, sitting.Fields)}")
        );

    private static string Value(AnswerSlot slot, IReadOnlyList<long> fields)
    {
        if (fields[slot.StateField] != 0)
        {
            return ((State)fields[slot.StateField]).ToWords();
        }

        var value = fields[slot.ValueField];
        return slot.Response.Scale is { } scale
            ? scale.Levels[scale.Levels.Count - 1 - (int)value].Points.ToString()
            : value.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>The lines of the program for a sitting, by scoring.</summary>
    public long[] Score(ProofSitting sitting) => Evaluator.Run(Protocol.Program, sitting.Fields);

    private sealed class NoModules : IModuleSource
    {
        public SourceText? Find(string name) => null;

        public IEnumerable<string> Names => [];
    }
}
