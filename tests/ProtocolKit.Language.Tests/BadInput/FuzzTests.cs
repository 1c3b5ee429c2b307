using FsCheck.Xunit;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tests.Support;
using ProtocolKit.Model;
using ProtocolKit.Scoring;

namespace ProtocolKit.Language.Tests.BadInput;

/// <summary>Compiling never throws, ends soon, and gives a protocol exactly where nothing is wrong.</summary>
[Properties(Arbitrary = [typeof(TextGenerators)])]
public sealed class FuzzTests
{
    [Property(MaxTest = 400)]
    public void No_text_stops_the_compiler(RandomText text) => Check(Guarded.Compile(text.Text), text.Text);

    [Property(MaxTest = 150)]
    public void No_change_of_the_example_stops_the_compiler(MutatedExample example, int seed)
    {
        var compilation = Guarded.Compile(example.Text, Modules.OfQuillmere);
        Check(compilation, example.Text);
        if (compilation.Protocol is { } protocol)
        {
            EveryLineKeepsItsLimits(protocol.Program, seed);
        }
    }

    [Property(MaxTest = 60)]
    public void Every_line_of_the_example_keeps_its_proved_limits(int seed) =>
        EveryLineKeepsItsLimits(Example.Value.Program, seed);

    private static readonly Lazy<Protocol> Example = new(() =>
        Guarded
            .Compile(
                Repository.Read("library", "quillmere", "quillmere-screen.protocol"),
                Modules.OfQuillmere
            )
            .Protocol!
    );

    private static void Check(Compilation compilation, string text)
    {
        var errors = compilation.Diagnostics.Count(d => d.Severity == Severity.Error);
        Assert.Equal(errors > 0, compilation.HasErrors);
        var lines = text.Count(c => c == '\n') + 1;
        Assert.All(
            compilation.Diagnostics,
            d =>
            {
                Assert.InRange(d.Place.Line, 1, Math.Max(lines, 2000));
                Assert.InRange(d.Place.Column, 1, int.MaxValue);
                Assert.NotEmpty(DiagnosticText.Render(d));
            }
        );
    }

    /// <summary>The limits are the whole proof that no number grows too large, so they must hold for any record.</summary>
    private static void EveryLineKeepsItsLimits(ScoringProgram program, int seed)
    {
        var random = new Random(seed);
        var fields = program.Fields.Select(f => f.Low + random.NextInt64(f.High - f.Low + 1)).ToArray();
        var values = Guarded.Run(() => Evaluator.Run(program, fields));
        for (var i = 0; i < values.Length; i++)
        {
            Assert.InRange(values[i], program.Lines[i].Low, program.Lines[i].High);
            Assert.InRange(program.Lines[i].High, -ScoringProgram.Limit, ScoringProgram.Limit);
            Assert.InRange(program.Lines[i].Low, -ScoringProgram.Limit, ScoringProgram.Limit);
        }
    }
}
