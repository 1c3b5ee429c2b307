using FsCheck.Xunit;
using ProtocolKit.Language.Tests.Support;

namespace ProtocolKit.Language.Tests.BadInput;

/// <summary>
/// A line is put where its first word may belong, but never without a message. (A text that continues one needs no column.)
/// </summary>
public sealed class ColumnTests
{
    private static readonly string[] Example = Repository
        .Read("library", "quillmere", "quillmere-screen.protocol")
        .Split('\n');

    private static readonly string[] AtMargin =
    [
        "task",
        "measure",
        "score",
        .. Example.Where(l => l.Length > 0 && char.IsLetter(l[0])).Select(l => l.Split(' ')[0]),
    ];

    [Property(MaxTest = 400)]
    public void A_line_in_a_wrong_column_is_told(byte high, byte low, byte column)
    {
        var lines = Example.ToArray();
        var said = Enumerable.Range(0, lines.Length).Where(i => HoldsSomething(lines[i])).ToList();
        var at = said[((high * 256) + low) % said.Count];
        lines[at] = new string(' ', column % 8) + lines[at].TrimStart();

        var compiled = Guarded.Compile(string.Join('\n', lines), Modules.OfQuillmere);

        Assert.True(
            compiled.HasErrors || (LinesUp(lines) && IsAtMarginByRight(lines[at])),
            $"Line {at + 1} is taken as it stands: {lines[at]}"
        );
    }

    private static bool HoldsSomething(string line) =>
        line.Trim().Length > 0 && line.TrimStart()[0] is not ('#' or '"');

    private static bool IsAtMarginByRight(string line) =>
        line[0] == ' ' || AtMargin.Contains(line.Split(' ')[0], StringComparer.Ordinal);

    /// <summary>Each line starts in the column of one it stands beside, or further right than the one before.</summary>
    private static bool LinesUp(string[] lines)
    {
        var open = new Stack<int>();
        foreach (var line in lines.Where(HoldsSomething))
        {
            var column = line.Length - line.TrimStart().Length;
            var last = open.Count == 0 ? -1 : open.Peek();
            while (open.Count > 0 && open.Peek() > column)
            {
                open.Pop();
            }

            if (open.Count > 0 && open.Peek() == column)
            {
                continue;
            }

            if (column < last)
            {
                return false;
            }

            open.Push(column);
        }

        return true;
    }
}
