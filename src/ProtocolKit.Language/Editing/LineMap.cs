namespace ProtocolKit.Language.Editing;

/// <summary>
/// Where lines stand now. Statements keep the line numbers under which they were read; lines that were put in or taken out since
/// move those behind them. Blank lines and comments hold no statement, and so need no number.
/// </summary>
internal sealed class LineMap
{
    /// <summary>By the number under which a line was read.</summary>
    private readonly int[] _now;

    private LineMap(int[] now, bool isMoved) => (_now, IsMoved) = (now, isMoved);

    /// <summary>All lines where they were read.</summary>
    public static LineMap Of(string text) =>
        new([.. Enumerable.Range(0, text.AsSpan().Count('\n') + 2)], isMoved: false);

    /// <summary>By the number under which a line was read (0 is none): where it stands.</summary>
    public IReadOnlyList<int> All => _now;

    /// <summary>True where any line may stand elsewhere than where it was read.</summary>
    public bool IsMoved { get; }

    /// <summary>The first number that no line was read under.</summary>
    public int Fresh => _now.Length;

    public int Now(int line) => line < _now.Length ? _now[line] : line;

    /// <summary>True where so many lines from one on stand behind each other as they were read.</summary>
    public bool IsWhole(int line, int count) =>
        line + count <= _now.Length && _now[line + count - 1] - _now[line] == count - 1;

    /// <summary>After an edit that says the same: its lines with something on them, then and now, in order.</summary>
    public LineMap After(TextEdit edit, IReadOnlyList<(int Then, int Now)> lines)
    {
        var now = Moved(edit, 0);
        foreach (var (then, at) in lines)
        {
            for (var i = Array.IndexOf(_now, then); i >= 0; i = Array.IndexOf(_now, then, i + 1))
            {
                now[i] = at;
            }
        }

        return new LineMap(now, isMoved: true);
    }

    /// <summary>After an edit within a statement that is read under new numbers.</summary>
    /// <param name="first">The line where the statement begins now.</param>
    /// <param name="count">How many lines it has now.</param>
    public LineMap After(TextEdit edit, int first, int count)
    {
        var now = Moved(edit, count);
        for (var i = 0; i < count; i++)
        {
            now[_now.Length + i] = first + i;
        }

        return new LineMap(now, isMoved: true);
    }

    private int[] Moved(TextEdit edit, int more)
    {
        var now = new int[_now.Length + more];
        for (var i = 0; i < _now.Length; i++)
        {
            now[i] = _now[i] + (_now[i] > edit.Line + edit.Removed ? edit.Added - edit.Removed : 0);
        }

        return now;
    }
}
