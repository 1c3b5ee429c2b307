using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lexing;

namespace ProtocolKit.Language.Editing;

/// <summary>Where one text differs from another: in one stretch of lines.</summary>
/// <param name="Line">The number of its first, from 1, the same in both.</param>
/// <param name="LineStart">Where that begins, in both.</param>
/// <param name="Removed">How many lines more the stretch has in the old text.</param>
/// <param name="Added">How many lines more it has in the new one.</param>
internal readonly record struct TextEdit(int Line, int LineStart, int Removed, int Added)
{
    /// <summary>Null where the texts are the same, or where the change is no plain text.</summary>
    public static TextEdit? Between(string old, string @new)
    {
        var shorter = Math.Min(old.Length, @new.Length);
        var before = old.AsSpan().CommonPrefixLength(@new);
        var after = CommonSuffix(old.AsSpan(before), @new.AsSpan(before));
        var removed = old.AsSpan(before, old.Length - before - after);
        var added = @new.AsSpan(before, @new.Length - before - after);
        if ((before == shorter && old.Length == @new.Length) || IsOdd(removed) || IsOdd(added))
        {
            return null;
        }

        var start = old.AsSpan(0, before).LastIndexOf('\n') + 1;
        return new TextEdit(
            1 + old.AsSpan(0, start).Count('\n'),
            start,
            removed.Count('\n'),
            added.Count('\n')
        );
    }

    /// <summary>Signs that nobody sees, but for tabs and the ends of lines.</summary>
    private static bool IsOdd(ReadOnlySpan<char> text) =>
        text.Contains('\uFFFD')
        || text.ContainsAnyInRange('\0', '\u0008')
        || text.ContainsAnyInRange('\u000B', '\u000C')
        || text.ContainsAnyInRange('\u000E', '\u001F');

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

    /// <summary>
    /// Where only comments, blank lines or the spaces after a last word changed, and none of it is a mistake: the lines with
    /// something on them, in the old text and in the new one. Null where the text says another thing.
    /// </summary>
    public IReadOnlyList<(int Then, int Now)>? SameLines(SourceText old, SourceText @new)
    {
        var bag = new DiagnosticBag();
        var (before, after) = (Pieces(old, Removed, bag), Pieces(@new, Added, bag));
        if (bag.Found.Count > 0 || before.Count != after.Count)
        {
            return null;
        }

        var pairs = before.Zip(after).ToList();
        return pairs.TrueForAll(p => SaysTheSame(p.First, p.Second))
            ? pairs.ConvertAll(p => (p.First.Tokens[0].Place().Line, p.Second.Tokens[0].Place().Line))
            : null;
    }

    private static bool SaysTheSame(RawLine one, RawLine other) =>
        one.Indent == other.Indent
        && one.Stray is null
        && other.Stray is null
        && one.Tokens.Length == other.Tokens.Length
        && one.Tokens.Zip(other.Tokens)
            .All(t =>
                t.First.Kind == t.Second.Kind
                && t.First.Place() with { Line = 0 } == t.Second.Place() with { Line = 0 }
                && t.First.ToStringValue() == t.Second.ToStringValue()
            );

    private List<RawLine> Pieces(SourceText source, int more, DiagnosticBag bag)
    {
        var lines = new List<RawLine>();
        new Lexer(source, bag).Lines(lines, LineStart, StartOf(source.Text, Line + more + 1), Line);
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
