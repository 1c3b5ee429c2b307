using ProtocolKit.Emit.Templating;

namespace ProtocolKit.Workspace.Files;

/// <summary>A folder <c>templates</c> beside a protocol stands in for built-in templates of the same name.</summary>
public static class TemplateFolder
{
    public static TemplateSource Beside(string protocolPath)
    {
        var folder = Path.Combine(Path.GetDirectoryName(Path.GetFullPath(protocolPath)) ?? ".", "templates");
        if (!Directory.Exists(folder))
        {
            return TemplateSource.BuiltIn;
        }

        var texts = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (
            var file in Directory
                .EnumerateFiles(folder, "*", SearchOption.AllDirectories)
                .Order(StringComparer.Ordinal)
        )
        {
            texts[Path.GetRelativePath(folder, file).Replace('\\', '/')] = TextFile.Read(file);
        }

        return TemplateSource.Overriding(texts);
    }
}
