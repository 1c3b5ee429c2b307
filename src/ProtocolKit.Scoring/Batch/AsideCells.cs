using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring.Batch;

/// <summary>
/// Columns of a table that no score rests on, but that may be wrong: which help was given where it has no cost, and how long a
/// task took. What isn't surely right goes to the reader of records, which says what is wrong with it.
/// </summary>
internal sealed class AsideCells
{
    private readonly HashSet<string>? _rungs;
    private readonly HashSet<string>.AlternateLookup<ReadOnlySpan<char>> _spans;

    private AsideCells(IEnumerable<string>? rungs)
    {
        if (rungs is not null)
        {
            _rungs = rungs.ToHashSet(StringComparer.Ordinal);
            _spans = _rungs.GetAlternateLookup<ReadOnlySpan<char>>();
        }
    }

    /// <returns>Null where the column is none of these.</returns>
    public static AsideCells? Of(Protocol protocol, string column)
    {
        foreach (var task in protocol.Tasks)
        {
            if (column == $"{RecordKeys.TaskSeconds}.{task.Name}")
            {
                return new AsideCells(null);
            }

            var keys = task.Variants.Select(v => v.Name.Length == 0 ? task.Name : $"{task.Name}.{v.Name}");
            if (keys.Any(k => column == $"{RecordKeys.Help}.{k}"))
            {
                var costs = protocol.Program.Answers.Any(a =>
                    a.IsHelp && a.Task.Name == $"{task.Name}.{HelpLadder.With}"
                );
                return costs ? null : new AsideCells(task.HelpRungs().Select(r => r.Text));
            }
        }

        return null;
    }

    public bool IsRight(ReadOnlySpan<char> text) =>
        _rungs is not null
            ? _spans.Contains(text)
            : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds)
                && seconds <= RecordKeys.MostTaskSeconds;
}
