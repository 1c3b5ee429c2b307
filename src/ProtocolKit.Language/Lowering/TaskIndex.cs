using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>The tasks that rules speak of, in giving order, found by name and by section.</summary>
internal sealed class TaskIndex(IReadOnlyList<ProtocolTask> tasks)
{
    private Dictionary<string, ProtocolTask> _byName = ByName(tasks);
    private ILookup<string, ProtocolTask> _bySection = BySection(tasks);

    public IReadOnlyList<ProtocolTask> All { get; private set; } = tasks;
    public IEnumerable<string> Names => All.Select(t => t.Name);

    public ProtocolTask? Find(string name) => _byName.GetValueOrDefault(name);

    public IEnumerable<ProtocolTask> In(string section) => _bySection[section];

    /// <summary>The same tasks, one under another name, or some in a section of another name.</summary>
    public void Replace(IReadOnlyList<ProtocolTask> anew, Undo undo)
    {
        var before = (All, _byName, _bySection);
        undo.Add(() => (All, _byName, _bySection) = before);
        (All, _byName, _bySection) = (anew, ByName(anew), BySection(anew));
    }

    private static Dictionary<string, ProtocolTask> ByName(IReadOnlyList<ProtocolTask> tasks) =>
        tasks.ToDictionary(t => t.Name, StringComparer.Ordinal);

    private static ILookup<string, ProtocolTask> BySection(IReadOnlyList<ProtocolTask> tasks) =>
        tasks.ToLookup(t => t.Section?.Name ?? "", StringComparer.Ordinal);
}
