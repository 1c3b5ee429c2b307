using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>The tasks that rules speak of, in giving order, found by name and by section.</summary>
internal sealed class TaskIndex
{
    private readonly List<ProtocolTask> _all;
    private readonly Dictionary<string, ProtocolTask> _byName;
    private readonly Dictionary<string, List<ProtocolTask>> _bySection = new(StringComparer.Ordinal);

    public TaskIndex(IEnumerable<ProtocolTask> tasks)
    {
        _all = [.. tasks];
        _byName = _all.ToDictionary(t => t.Name, StringComparer.Ordinal);
        foreach (var task in _all)
        {
            if (!_bySection.TryGetValue(task.Section?.Name ?? "", out var beside))
            {
                _bySection[task.Section?.Name ?? ""] = beside = [];
            }

            beside.Add(task);
        }
    }

    public IReadOnlyList<ProtocolTask> All => _all;
    public IEnumerable<string> Names => _all.Select(t => t.Name);

    public ProtocolTask? Find(string name) => _byName.GetValueOrDefault(name);

    public IReadOnlyList<ProtocolTask> In(string section) => _bySection.GetValueOrDefault(section) ?? [];

    /// <summary>A task under another name, in its place.</summary>
    public void Rename(string old, ProtocolTask anew, Undo undo)
    {
        var before = _byName[old];
        Put(before, anew);
        undo.Add(() => Put(anew, before));
    }

    private void Put(ProtocolTask old, ProtocolTask anew)
    {
        var beside = _bySection[old.Section?.Name ?? ""];
        _all[_all.FindIndex(t => ReferenceEquals(t, old))] = anew;
        beside[beside.FindIndex(t => ReferenceEquals(t, old))] = anew;
        _byName.Remove(old.Name);
        _byName.Add(anew.Name, anew);
    }
}
