using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Parsing;

namespace ProtocolKit.Language.Layout;

/// <summary>Where a line belongs among those that are open.</summary>
/// <param name="Depth">How many lines it stands under.</param>
/// <param name="Indent">Where lines under it start further right.</param>
/// <param name="Beside">The column of the lines it stands beside; its own unless it is out of line.</param>
/// <param name="Wrong">What is wrong with its column, where its reader can't say it.</param>
internal readonly record struct Spot(int Depth, int Indent, int Beside, Message? Wrong = null)
{
    /// <inheritdoc cref="Line.IsMisplaced"/>
    public bool IsMisplaced { get; init; }

    /// <summary>Nothing stands under it: what is further right belongs to the lines before it.</summary>
    public bool IsLeaf { get; init; }
}

/// <summary>
/// The line read last with those it stands under. The next one finds its place by its column; where that fits nothing, or where
/// its first word can't stand there, by the word, so that one slip doesn't move all that follows it.
/// </summary>
internal sealed class OpenLines
{
    private readonly List<(Line Line, Spot Spot)> _open = [];
    private bool _hasOtherWords;
    private int _lastLine;

    public int Count => _open.Count;

    public Line? Last => _open.Count > 0 ? _open[^1].Line : null;

    /// <summary>Keeps this many of them.</summary>
    public void Close(int depth) => _open.RemoveRange(depth, _open.Count - depth);

    public void Add(Line line, Spot spot)
    {
        if (!spot.IsLeaf)
        {
            _open.Add((line, spot));
        }
    }

    public Spot SpotFor(Line line, int indent)
    {
        var number = line.First.Span.Position.Line;
        var isBelow = number == _lastLine + 1;
        _lastLine = number;
        _hasOtherWords |= indent == 0 && line.Word is "translation";
        var depth = _open.Count;
        while (
            depth > 0 && (_open[depth - 1].Spot.Indent >= indent || _open[depth - 1].Spot.Beside == indent)
        )
        {
            depth--;
        }

        if (depth == _open.Count)
        {
            return new Spot(depth, indent, indent);
        }

        var closed = _open[depth].Spot;
        return closed.Beside == indent || closed.Indent == indent
            ? ByWord(line, new Spot(depth, indent, indent), isBelow)
            : Between(line, depth, indent, closed.Indent);
    }

    /// <summary>A line between two columns goes with the deeper one, unless only the other may hold it.</summary>
    private Spot Between(Line line, int depth, int indent, int deeper)
    {
        if (MayStand(depth, line.Word) == false)
        {
            if (FurtherIn(line, depth) is { } spot)
            {
                return spot;
            }

            if (depth > 0 && MayStand(depth - 1, line.Word) == true)
            {
                depth--;
                deeper = _open[depth].Spot.Beside;
            }
        }

        return new Spot(depth, indent, deeper, TextMessages.Indentation(deeper, indent));
    }

    /// <summary>In a column in use, but perhaps not the one that was meant.</summary>
    private Spot ByWord(Line line, Spot here, bool isBelow)
    {
        if (MayStand(here.Depth, line.Word) != false)
        {
            return here;
        }

        var isSlip = here.Depth == 0 && isBelow && !BodyWords.IsNearTop(line.Word.ToString());
        return FurtherIn(line, here.Depth) ?? (isSlip ? Slip() : null) ?? here;
    }

    /// <summary>Where its word may stand, or the second one where something was put in before that.</summary>
    private Spot? FurtherIn(Line line, int least)
    {
        if (DeepestFor(line.Word, least) is { } depth)
        {
            return Deeper(depth) with { IsMisplaced = true };
        }

        return
            line.Tokens is [_, { Kind: TokenKind.Name } second, ..]
            && DeepestFor(second.ToStringValue(), least) is { } meant
            ? Deeper(meant)
            : null;
    }

    private int? DeepestFor(ReadOnlySpan<char> word, int least)
    {
        for (var depth = _open.Count; depth > least; depth--)
        {
            if (MayStand(depth, word) == true)
            {
                return depth;
            }
        }

        return null;
    }

    /// <summary>
    /// A line at the margin, right below another, that begins like no line: the one before was broken in two, or its first
    /// word was lost. It ends nothing.
    /// </summary>
    private Spot? Slip()
    {
        var last = _open[^1];
        var isUnder = BodyWords.MayHoldLines(last.Line);
        if (_open.Count == 1 && !BodyWords.HasOf(last.Line))
        {
            return null;
        }

        var spot = Deeper(isUnder ? _open.Count : _open.Count - 1);
        var wrong =
            BodyWords.HasOf(_open[spot.Depth - 1].Line) ? null
            : isUnder ? TextMessages.Under(last.Spot.Indent, 0)
            : TextMessages.Indentation(spot.Beside, 0);
        return spot with { Wrong = wrong };
    }

    private Spot Deeper(int depth)
    {
        var isFirst = depth == _open.Count;
        var beside = isFirst ? _open[^1].Spot.Indent + 1 : _open[depth].Spot.Beside;
        return new Spot(depth, beside, beside) { IsLeaf = isFirst };
    }

    private bool? MayStand(int depth, ReadOnlySpan<char> word) =>
        _hasOtherWords ? null : BodyWords.MayStand(depth == 0 ? null : _open[depth - 1].Line, word);
}
