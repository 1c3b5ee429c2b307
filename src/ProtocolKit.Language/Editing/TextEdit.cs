using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Editing;

/// <summary>Where one text differs from another: within one line.</summary>
/// <param name="Line">Its number, from 1, the same in both.</param>
/// <param name="LineStart">Where it begins, in both.</param>
internal readonly record struct TextEdit(int Line, int LineStart)
{
    /// <summary>Null where the texts differ in more than one line, are the same, or where the change is no plain text.</summary>
    public static TextEdit? Between(string old, string @new)
    {
        var shorter = Math.Min(old.Length, @new.Length);
        var before = old.AsSpan().CommonPrefixLength(@new);
        var after = CommonSuffix(old.AsSpan(before), @new.AsSpan(before));
        var removed = old.AsSpan(before, old.Length - before - after);
        var added = @new.AsSpan(before, @new.Length - before - after);
        if (
            (before == shorter && old.Length == @new.Length)
            || removed.IndexOfAnyInRange('\0', '\u001f') >= 0
            || added.IndexOfAnyInRange('\0', '\u001f') >= 0
            || added.Contains('\uFFFD')
        )
        {
            return null;
        }

        var start = old.AsSpan(0, before).LastIndexOf('\n') + 1;
        return new TextEdit(1 + old.AsSpan(0, start).Count('\n'), start);
    }

    private static int CommonSuffix(ReadOnlySpan<char> a, ReadOnlySpan<char> b)
    {
        var most = Math.Min(a.Length, b.Length);
        var same = 0;

        // Long stretches at once, then the rest by hand.
        for (var step = 4096; step > 0; step /= 8)
        {
            while (same + step <= most && a[^(same + step)..^same].SequenceEqual(b[^(same + step)..^same]))
            {
                same += step;
            }
        }

        return same;
    }

    /// <summary>True where only a comment or the spaces after the last word changed, and none of it is a mistake.</summary>
    public bool SaysTheSame(SourceText old, SourceText @new)
    {
        var bag = new DiagnosticBag();
        var (before, after) = (Pieces(old, bag), Pieces(@new, bag));
        if (bag.Found.Count > 0 || before.Count != after.Count)
        {
            return false;
        }

        if (before.Count == 0)
        {
            return true;
        }

        var (one, other) = (before[0], after[0]);
        return one.Indent == other.Indent
            && one.Stray is null
            && other.Stray is null
            && one.Tokens.Length == other.Tokens.Length
            && one.Tokens.Zip(other.Tokens)
                .All(t =>
                    t.First.Kind == t.Second.Kind
                    && t.First.Place() == t.Second.Place()
                    && t.First.ToStringValue() == t.Second.ToStringValue()
                );
    }

    private List<RawLine> Pieces(SourceText source, DiagnosticBag bag)
    {
        var lines = new List<RawLine>();
        new Lexer(source, bag).Lines(lines, LineStart, StartOf(source.Text, Line + 1), Line);
        return lines;
    }

    /// <summary>Where a line near this one begins; the text's length beyond the last.</summary>
    public int StartOf(string text, int line)
    {
        var at = LineStart;
        for (var n = Line; n > line; n--)
        {
            at = text.AsSpan(0, at - 1).LastIndexOf('\n') + 1;
        }

        for (var n = Line; n < line; n++)
        {
            var end = text.AsSpan(at).IndexOf('\n');
            if (end < 0)
            {
                return text.Length;
            }

            at += end + 1;
        }

        return at;
    }
}
