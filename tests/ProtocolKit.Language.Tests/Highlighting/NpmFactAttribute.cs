namespace ProtocolKit.Language.Tests.Highlighting;

/// <summary>A test that reads the editor grammar with an editor's own engine, which npm installs into a folder of its own.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class NpmFactAttribute : FactAttribute
{
    public NpmFactAttribute()
    {
        if (!IsHere("node") || !IsHere("npm"))
        {
            Skip = "NOT RUN: Node and npm are not installed, so the editor grammar could not be tried.";
        }
    }

    private static bool IsHere(string command) =>
        (Environment.GetEnvironmentVariable("PATH") ?? "")
            .Split(Path.PathSeparator)
            .Any(folder =>
                File.Exists(Path.Combine(folder, command))
                || File.Exists(Path.Combine(folder, command + ".cmd"))
            );
}
