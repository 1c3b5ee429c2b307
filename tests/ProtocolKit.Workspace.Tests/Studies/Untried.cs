using ProtocolKit.Model;
using ProtocolKit.Workspace.Studies;

namespace ProtocolKit.Workspace.Tests.Studies;

/// <summary>The pilot's children as if each had refused every task: every answer is a code.</summary>
internal static class Untried
{
    public static StudyData Of(Protocol protocol, string pilot)
    {
        var rows = File.ReadAllLines(pilot);
        var heads = rows[0].Split(',');
        var answers = protocol.Program.Answers.Select(a => a.Key).ToHashSet(StringComparer.Ordinal);
        var path = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".csv");
        try
        {
            File.WriteAllLines(
                path,
                rows.Skip(1)
                    .Select(r =>
                        string.Join(
                            ',',
                            r.Split(',')
                                .Select((c, i) => answers.Contains(heads[i]) && c.Length > 0 ? "refused" : c)
                        )
                    )
                    .Prepend(rows[0])
            );
            return StudyReader.Read(protocol, path);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
