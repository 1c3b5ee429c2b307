using ProtocolKit.Model;
using ProtocolKit.Workspace;

namespace ProtocolKit.Verification.Tests;

/// <summary>The example of the library, whole.</summary>
public class ExampleTests
{
    [Fact]
    public void Every_target_agrees_on_the_example_screen()
    {
        var report = Verifier.Run(Screen(), new VerifyOptions { Records = 200 });

        Assert.True(report.NothingWrong, VerifyText.Write(report));
        Assert.True(report.AtEdges > 1000);
    }

    private static Protocol Screen()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "ProtocolKit.sln")))
        {
            folder = folder.Parent!;
        }

        var path = Path.Combine(folder.FullName, "library", "quillmere", "quillmere-screen.protocol");
        return ProtocolFile.Open(path).Compilation.Protocol!;
    }
}
