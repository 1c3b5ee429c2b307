using System.Reflection;
using System.Runtime.Loader;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using ProtocolKit.Emit;
using ProtocolKit.Emit.Code.CSharp;
using ProtocolKit.Emit.Code.Properties;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;
using ProtocolKit.Workspace;

namespace ProtocolKit.Verification.Tests;

/// <summary>The emitted test file is compiled beside the emitted scoring and run, as in a developer's own project.</summary>
public sealed class PropertyTestsTests : IDisposable
{
    private const string Variable = "PROTOCOL_FILE";

    private const string Text = """
        language 1

        protocol tiny-screen
          title    "Tiny </script> \"screen\""
          edition  1.0
          ages     4;0 to 5;11
          sitting  5 to 10 min
          purpose  "Invented, for a test."
          examiner "Anyone in a test."

        scale three, higher is better
          2 "full"
          1 "part"
          0 "none"

        band low  "Low"
        band high "High"

        section s "S"
          task a "A"
            say  "Do this."
            rate three
          task b "B" each side left, right
            say  "Do this."
            rate three
          task taps "Taps"
            say   "Tap."
            count taps 0 to 20, higher is better
            time  run in s, step 0.1, 1 to 5

        score t "T"
          add up rate of every task in s

        measure pace "Pace" in taps/s, step 0.1
          = taps.taps / taps.run

        cut-offs t
          ages         low     high
          4;0 to 4;11  0 to 2  3 to 6
          5;0 to 5;11  0 to 3  4 to 6
          basis provisional "invented"

        cut-offs pace
          ages         low     high
          4;0 to 5;11  0 to 4  4.1 to 20
          basis provisional "invented"

        actions
          see "See" within 2 weeks
            when any band is low
          finish-it "Finish" within 4 weeks, finish
            when any band is undecided
          none "None"
            when no other action applies

        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("properties-").FullName;

    public void Dispose()
    {
        Environment.SetEnvironmentVariable(Variable, null);
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public void The_emitted_tests_compile_and_pass_on_the_emitted_scoring()
    {
        var protocol = Open();
        var ran = Run(protocol, new CSharpOutput().Text(protocol, TemplateSource.BuiltIn));

        // Three of any record, four cells of t, two of pace, three actions.
        Assert.Equal(12, ran.Count);
        Assert.All(ran, r => Assert.Null(r.Failure));
    }

    [Fact]
    public void A_mistake_in_the_scoring_fails_the_tests_it_concerns_and_shows_a_small_record()
    {
        var protocol = Open();
        var code = new CSharpOutput().Text(protocol, TemplateSource.BuiltIn);
        var table = protocol.Program.Bands[0];
        var wrong = code.Replace("\"low\"", "\"high\"", StringComparison.Ordinal);
        Assert.NotEqual(code, wrong);
        Assert.Equal("t", table.Table.Outcome.Name);

        var failed = Run(protocol, wrong).Where(r => r.Failure is not null).ToList();

        Assert.Equal(
            ["A_value_has_the_band_of_its_cell"],
            failed.Select(f => f.Test).Distinct(StringComparer.Ordinal)
        );
        Assert.Equal(3, failed.Count);
        Assert.All(
            failed,
            f => Assert.Contains("Falsifiable", f.Failure!.ToString(), StringComparison.Ordinal)
        );
    }

    [Fact]
    public void A_text_that_has_changed_since_is_noticed()
    {
        var built = Open();
        File.WriteAllText(
            Path.Combine(_folder, "tiny-screen.protocol"),
            Text.Replace("0 to 2  3 to 6", "0 to 1  2 to 6", StringComparison.Ordinal)
        );
        var failed = Run(built, new CSharpOutput().Text(built, TemplateSource.BuiltIn))
            .Where(r => r.Failure is not null)
            .Select(r => r.Test);
        Assert.Contains("The_text_is_still_the_one_these_tests_were_built_from", failed);
    }

    private Protocol Open()
    {
        var path = Path.Combine(_folder, "tiny-screen.protocol");
        File.WriteAllText(path, Text.ReplaceLineEndings("\n"));
        Environment.SetEnvironmentVariable(Variable, path);
        var compilation = ProtocolFile.Open(path).Compilation;
        Assert.True(compilation.Protocol is not null, string.Join("; ", compilation.Diagnostics));
        return compilation.Protocol!;
    }

    private static List<(string Test, Exception? Failure)> Run(Protocol protocol, string scoring)
    {
        var tests = new PropertyTestsOutput().Render(protocol, new OutputOptions(), TemplateSource.BuiltIn);
        var type = Compile(Assert.Single(tests).Text, scoring)
            .GetType(PropertyTestsOutput.TypeName(protocol))!;
        var results = new List<(string, Exception?)>();
        foreach (var method in type.GetMethods().Where(m => m.GetCustomAttributes<FactAttribute>().Any()))
        {
            var data = method.GetCustomAttributes<InlineDataAttribute>().SelectMany(d => d.GetData(method));
            foreach (var arguments in data.DefaultIfEmpty([]))
            {
                results.Add(
                    (method.Name, FailureOf(() => method.Invoke(Activator.CreateInstance(type), arguments)))
                );
            }
        }

        return results;
    }

    private static Exception? FailureOf(Action test)
    {
        try
        {
            test();
            return null;
        }
        catch (TargetInvocationException e)
        {
            return e.InnerException;
        }
    }

    private static Assembly Compile(params string[] files)
    {
        var references = ((string)AppContext.GetData("TRUSTED_PLATFORM_ASSEMBLIES")!)
            .Split(Path.PathSeparator)
            .Select(p => MetadataReference.CreateFromFile(p));
        var compiled = CSharpCompilation.Create(
            "Properties",
            files.Select(f => CSharpSyntaxTree.ParseText(f)),
            references,
            new CSharpCompilationOptions(OutputKind.DynamicallyLinkedLibrary)
        );
        using var stream = new MemoryStream();
        var emitted = compiled.Emit(stream);
        Assert.True(emitted.Success, string.Join('\n', emitted.Diagnostics.Take(5)));
        stream.Position = 0;
        return new AssemblyLoadContext("Properties", isCollectible: true).LoadFromStream(stream);
    }
}
