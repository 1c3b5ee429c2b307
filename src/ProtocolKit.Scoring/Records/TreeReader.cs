using System.Globalization;
using ProtocolKit.Model;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace ProtocolKit.Scoring;

/// <summary>
/// Reads a text into the small tree. A record is plain YAML: anchors, aliases, tags, several documents, a key
/// given twice and deep nesting are refused. Nothing here grows beyond the text, whatever the text says.
/// </summary>
internal sealed class TreeReader
{
    private const int DeepestNesting = 8;

    private readonly ProblemList _problems;
    private readonly Parser _events;
    private readonly Dictionary<string, (Origin First, int Count)> _refused = new(StringComparer.Ordinal);
    private bool _isTooDeep;

    private TreeReader(string text, ProblemList problems)
    {
        _problems = problems;
        _events = new Parser(new StringReader(text));
    }

    /// <summary>The whole tree, or nothing where the text could not be read to its end.</summary>
    public static Node? Read(string text, ProblemList problems)
    {
        text = text.Length > 0 && text[0] == '\uFEFF' ? text[1..] : text;
        if (!TextCheck.Passes(text, problems))
        {
            return null;
        }

        var reader = new TreeReader(text, problems);
        try
        {
            return reader.Document();
        }
        catch (YamlException broken)
        {
            YamlTrouble.Report(text, broken.Start, broken.End, problems);
        }
        catch (ArgumentException)
        {
            // The library meets an escape such as \UFFFFFFFF with a plain argument error.
            var here = reader._events.Current?.End ?? Mark.Empty;
            YamlTrouble.Report(text, here, here, problems);
        }

        return null;
    }

    private Node? Document()
    {
        Expect<StreamStart>();
        if (_events.Current is not DocumentStart)
        {
            _problems.Add(
                _problems.Start,
                "",
                "The record is empty.",
                "Begin with a line such as: protocol: the protocol's name"
            );
            return null;
        }

        _events.MoveNext();
        var root = Read(1);
        if (!_isTooDeep)
        {
            Expect<DocumentEnd>();
            ExpectNoSecondDocument();
        }

        ReportRefused();
        return _isTooDeep ? null : root;
    }

    private void Expect<T>()
        where T : ParsingEvent
    {
        if (_events.Current is null)
        {
            _events.MoveNext();
        }

        if (_events.Current is T)
        {
            _events.MoveNext();
        }
    }

    private void ExpectNoSecondDocument()
    {
        if (_events.Current is DocumentStart second)
        {
            _problems.Add(
                Place(second),
                "",
                "A second record begins here.",
                "Keep one record to a file, and take out the line with three hyphens."
            );
        }
    }

    private Node Read(int depth)
    {
        var current = _events.Current!;
        if (current is NodeEvent node)
        {
            RefuseExtras(node);
        }

        switch (current)
        {
            case Scalar scalar:
                _events.MoveNext();
                return Text(scalar);
            case MappingStart when depth <= DeepestNesting:
                return Map(depth);
            case SequenceStart when depth <= DeepestNesting:
                return List(depth);
            case MappingStart or SequenceStart:
                ReportDepth(current);
                return new ReportedNode(Place(current));
            default:
                if (current is AnchorAlias)
                {
                    Refuse("alias", current);
                }

                _events.MoveNext();
                return new ReportedNode(Place(current));
        }
    }

    private Node Text(Scalar scalar)
    {
        var at = Place(scalar);
        if (scalar.Value.Any(TextCheck.IsControl))
        {
            _problems.Add(
                at,
                "",
                "This text holds a control character.",
                "Take out the backslash and what follows it."
            );
            return new ReportedNode(at);
        }

        return new TextNode(at, scalar.Value, scalar.Style is not ScalarStyle.Plain);
    }

    private MapNode Map(int depth)
    {
        var at = Place(_events.Current!);
        _events.MoveNext();
        var entries = new List<Entry>();
        var seen = new Dictionary<string, Origin>(StringComparer.Ordinal);
        while (!_isTooDeep && _events.Current is not MappingEnd)
        {
            var key = Read(depth + 1);
            var value = _isTooDeep ? key : Read(depth + 1);
            Keep(key, value, entries, seen);
        }

        Leave();
        return new MapNode(at, entries);
    }

    private void Keep(Node key, Node value, List<Entry> entries, Dictionary<string, Origin> seen)
    {
        if (key is not TextNode name)
        {
            if (key is not ReportedNode)
            {
                _problems.Add(key.Origin, "", "A key can't be a list.", "Write a word, a colon and a value.");
            }

            return;
        }

        if (seen.TryAdd(name.Text, name.Origin))
        {
            entries.Add(new Entry(name.Text, name.Origin, value));
            return;
        }

        _problems.Add(
            name.Origin,
            name.Text,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{Say.Quote(name.Text)} stands here for the second time; the first is in line {seen[name.Text].Line}."
            ),
            "Keep the one that is right."
        );
    }

    private ListNode List(int depth)
    {
        var at = Place(_events.Current!);
        _events.MoveNext();
        var items = new List<Node>();
        while (!_isTooDeep && _events.Current is not SequenceEnd)
        {
            items.Add(Read(depth + 1));
        }

        Leave();
        return new ListNode(at, items);
    }

    private void Leave()
    {
        if (!_isTooDeep)
        {
            _events.MoveNext();
        }
    }

    private void ReportDepth(ParsingEvent at)
    {
        _isTooDeep = true;
        _problems.Add(
            Place(at),
            "",
            "Lists stand inside lists here, deeper than any record needs.",
            "Write every answer on a line of its own, under answers, with its full name."
        );
    }

    private void RefuseExtras(NodeEvent node)
    {
        if (!node.Anchor.IsEmpty)
        {
            Refuse("anchor", node);
        }

        if (!node.Tag.IsEmpty)
        {
            Refuse("tag", node);
        }
    }

    private void Refuse(string kind, ParsingEvent node)
    {
        var before = _refused.TryGetValue(kind, out var known) ? known : (First: Place(node), Count: 0);
        _refused[kind] = (before.First, before.Count + 1);
    }

    /// <summary>One problem a kind: a text with a million aliases needs no million messages.</summary>
    private void ReportRefused()
    {
        foreach (var (kind, (first, count)) in _refused)
        {
            var (message, mend) = kind switch
            {
                "alias" => (
                    "An alias (*) stands here",
                    "Write the value itself, or put quotes around a text that begins with *."
                ),
                "anchor" => (
                    "An anchor (&) stands here",
                    "Take it out, or put quotes around a text that begins with &."
                ),
                _ => (
                    "A tag (!) stands here",
                    "Take it out, or put quotes around a text that begins with !."
                ),
            };
            var more =
                count == 1
                    ? ""
                    : string.Create(CultureInfo.InvariantCulture, $", and {count - 1} more further on");
            _problems.Add(first, "", $"{message}{more}; a record takes none.", mend);
        }
    }

    private Origin Place(ParsingEvent at) =>
        _problems.At(at.Start.Line, at.Start.Column, Math.Max(0, at.End.Index - at.Start.Index));
}
