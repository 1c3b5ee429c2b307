namespace ProtocolKit.Workspace.Files;

/// <summary>Records named one by one, or all of a folder.</summary>
public static class RecordFiles
{
    private static readonly string[] Endings = [".yaml", ".yml", ".json"];

    /// <returns>File names with their texts, those of a folder in the order of their names.</returns>
    /// <exception cref="FileProblemException">A file can't be read, or a folder holds no record.</exception>
    public static IReadOnlyList<(string Name, string Text)> Read(IEnumerable<string> paths)
    {
        ArgumentNullException.ThrowIfNull(paths);
        return [.. paths.SelectMany(Files).Select(p => (Path.GetFileName(p), TextFile.Read(p)))];
    }

    private static IEnumerable<string> Files(string path)
    {
        if (!Directory.Exists(path))
        {
            return [path];
        }

        var files = Directory
            .EnumerateFiles(path)
            .Where(f => Endings.Contains(Path.GetExtension(f), StringComparer.OrdinalIgnoreCase))
            .Order(StringComparer.Ordinal)
            .ToList();
        return files.Count > 0
            ? files
            : throw new FileProblemException(
                $"{path} holds no records: files that end in .yaml, .yml or .json."
            );
    }
}
