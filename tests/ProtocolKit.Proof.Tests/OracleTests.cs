using System.Runtime.CompilerServices;

namespace ProtocolKit.Proof.Tests;

public sealed class OracleTests
{
    [Fact]
    public void The_oracle_uses_nothing_of_what_it_checks()
    {
        var folder = Path.Combine(Path.GetDirectoryName(Here())!, "Oracle");
        var files = Directory.GetFiles(folder, "*.cs");
        Assert.NotEmpty(files);
        Assert.All(
            files,
            f => Assert.DoesNotContain("using ProtocolKit", File.ReadAllText(f), StringComparison.Ordinal)
        );
    }

    private static string Here([CallerFilePath] string path = "") => path;
}
