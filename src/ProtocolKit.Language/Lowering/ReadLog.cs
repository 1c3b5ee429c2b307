using System.Runtime.InteropServices;

namespace ProtocolKit.Language.Lowering;

/// <summary>What rules read, and how often: a rule that is lowered anew takes its own readings back first.</summary>
internal sealed class ReadLog<T>(IEqualityComparer<T> comparer)
    where T : notnull
{
    private readonly Dictionary<T, int> _times = new(comparer);
    private readonly List<T> _inOrder = [];

    /// <summary>How many readings there were; a place to ask <see cref="Since"/> from.</summary>
    public int Count => _inOrder.Count;

    public bool Contains(T what) => _times.GetValueOrDefault(what) > 0;

    public void Add(T what)
    {
        CollectionsMarshal.GetValueRefOrAddDefault(_times, what, out _)++;
        _inOrder.Add(what);
    }

    public IReadOnlyList<T> Since(int count) =>
        count == _inOrder.Count ? [] : _inOrder.GetRange(count, _inOrder.Count - count);

    /// <summary>What was read under one name was read under another.</summary>
    public void Move(T old, T anew, Undo undo)
    {
        var times = _times.GetValueOrDefault(old);
        Move(times);
        undo.Add(() => Move(-times));

        void Move(int by)
        {
            CollectionsMarshal.GetValueRefOrAddDefault(_times, old, out _) -= by;
            CollectionsMarshal.GetValueRefOrAddDefault(_times, anew, out _) += by;
        }
    }

    /// <summary>Takes readings back, or (with 1) puts them in again.</summary>
    public void Change(IReadOnlyList<T> readings, int by)
    {
        foreach (var what in readings)
        {
            CollectionsMarshal.GetValueRefOrAddDefault(_times, what, out _) += by;
        }
    }
}
