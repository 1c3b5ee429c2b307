using System.Text;

namespace ProtocolKit.Cli.Tests;

/// <summary>
/// A folder of its own with the library in it, in which commands are run as from a shell. The program works in the
/// current folder, of which a process has one: tests that use this belong to one collection.
/// </summary>
public sealed class Sandbox : IDisposable
{
    private readonly string _before = Directory.GetCurrentDirectory();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("protocolkit-test-");

    public Sandbox()
    {
        Copy(Path.Combine(Root, "library"), Path.Combine(_folder.FullName, "library"));
        Directory.SetCurrentDirectory(_folder.FullName);
    }

    /// <summary>The repository's top folder.</summary>
    public static string Root { get; } = FindRoot();

    public string Folder => _folder.FullName;

    public static (int Code, string Output, string Messages) Run(params string[] args) => Run(null, args);

    /// <summary>With what is typed or piped in.</summary>
    public static (int Code, string Output, string Messages) RunWith(string input, params string[] args) =>
        Run(new StringReader(input), args);

    private static (int Code, string Output, string Messages) Run(TextReader? input, string[] args)
    {
        var (output, messages) = (new StringWriter(), new StringWriter());
        var code = CommandLineApp.Run(args, output, messages, input);
        return (
            code,
            output.ToString().ReplaceLineEndings("\n"),
            messages.ToString().ReplaceLineEndings("\n")
        );
    }

    public static string Write(string name, string text)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(name))!);
        File.WriteAllText(name, text, new UTF8Encoding(false));
        return name;
    }

    public void Dispose()
    {
        Directory.SetCurrentDirectory(_before);
        _folder.Delete(recursive: true);
    }

    private static void Copy(string from, string to)
    {
        foreach (var file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            var target = Path.Combine(to, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(file, target);
        }
    }

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "ProtocolKit.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName
            ?? throw new InvalidOperationException("The repository's top folder was not found.");
    }
}

/// <summary>Tests that share the process's current folder run one after another.</summary>
[CollectionDefinition(Name)]
public sealed class OneFolderAtATime
{
    public const string Name = "one folder at a time";
}
