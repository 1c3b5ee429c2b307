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

        Advance();
        var root = Read(1);
        if (!_isTooDeep)
        {
            Expect<DocumentEnd>();
            ExpectNoSecondDocument();
        }

        ReportRefused();
        return _isTooDeep ? null : root;
    }

    /// <summary>
    /// The library meets some texts (an escape \UFFFFFFFF, a bracket that stays open in a list) with errors of other
    /// kinds; they all mean that the text can't be read beyond this place.
    /// </summary>
    private void Advance()
    {
        try
        {
            _events.MoveNext();
        }
        catch (Exception broken) when (broken is not YamlException)
        {
            var here = _events.Current?.End ?? Mark.Empty;
            throw new YamlException(here, here, "", broken);
        }
    }

    private void Expect<T>()
        where T : ParsingEvent
    {
        if (_events.Current is null)
        {
            Advance();
        }

        if (_events.Current is T)
        {
            Advance();
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
        switch (_events.Current)
        {
            case AnchorAlias alias:
                Refuse("alias", alias);
                Advance();
                return new ReportedNode(Place(alias));
            case Scalar scalar:
                RefuseExtras(scalar);
                Advance();
                return Text(scalar);
            case MappingStart or SequenceStart when depth > DeepestNesting:
                ReportDepth(_events.Current);
                return new ReportedNode(Place(_events.Current));
            case MappingStart map:
                RefuseExtras(map);
                return Map(depth);
            case SequenceStart list:
                RefuseExtras(list);
                return List(depth);
            default:
                // Where a colon stands without its key, the library ends a level in the middle of an entry.
                var here = _events.Current?.Start ?? Mark.Empty;
                throw new YamlException(here, here, "");
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
        Advance();
        var entries = new List<Entry>();
        var seen = new Dictionary<string, Origin>(StringComparer.Ordinal);
        while (!_isTooDeep && _events.Current is not MappingEnd)
        {
            var key = Read(depth + 1);
            var value = _isTooDeep ? key : Read(depth + 1);
            if (!_isTooDeep)
            {
                Keep(key, value, entries, seen);
            }
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
        Advance();
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
            Advance();
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
