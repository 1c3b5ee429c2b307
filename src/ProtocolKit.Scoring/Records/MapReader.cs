using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Reads the keys of one level, and says of each missing, unknown or ill-shaped one what to do.</summary>
internal sealed class MapReader
{
    private readonly Dictionary<string, Entry> _entries;
    private readonly ProblemList _problems;
    private readonly string _path;

    /// <param name="path">The key this level stands under; empty for the record itself.</param>
    public MapReader(MapNode map, string path, IReadOnlyCollection<string> allowed, ProblemList problems)
    {
        _problems = problems;
        _path = path;
        Origin = map.Origin;
        _entries = map.Entries.ToDictionary(e => e.Key, StringComparer.Ordinal);
        foreach (var entry in map.Entries.Where(e => !allowed.Contains(e.Key)))
        {
            UnknownKey.Report(entry, path, allowed, problems);
        }
    }

    public Origin Origin { get; }

    public Origin PlaceOf(string key) => _entries.TryGetValue(key, out var entry) ? entry.Origin : Origin;

    public bool Has(string key) => _entries.ContainsKey(key);

    /// <summary>True where keys stand under the key.</summary>
    public bool IsMap(string key) => _entries.TryGetValue(key, out var entry) && entry.Value is MapNode;

    /// <summary>The value as a text; nothing when it is missing, blank or no text (reported, unless merely missing).</summary>
    public TextNode? Text(string key)
    {
        if (!_entries.TryGetValue(key, out var entry))
        {
            return null;
        }

        switch (entry.Value)
        {
            case TextNode { IsBlank: true }:
                _problems.Add(
                    entry.Origin,
                    Full(key),
                    $"{Full(key)} is blank.",
                    "Give it a value, or take the line out if it isn't needed."
                );
                return null;
            case TextNode text:
                return text;
            case ReportedNode:
                return null;
            default:
                _problems.Add(
                    entry.Origin,
                    Full(key),
                    $"{Full(key)} takes one value, not a list.",
                    $"Write {key}: and the value on the same line."
                );
                return null;
        }
    }

    /// <summary>As <see cref="Text"/>, with a problem also where the key is missing.</summary>
    public TextNode? Needed(string key, string example)
    {
        if (!Has(key))
        {
            _problems.Add(
                Origin,
                Full(key),
                $"{Full(key)} is missing.",
                $"Add a line such as: {key}: {example}"
            );
        }

        return Text(key);
    }

    /// <summary>The keys and values under a key; nothing when missing, blank or of another shape.</summary>
    public MapNode? Map(string key, string example)
    {
        if (!_entries.TryGetValue(key, out var entry))
        {
            return null;
        }

        if (entry.Value is MapNode map)
        {
            return map;
        }

        if (entry.Value is not (ReportedNode or TextNode { IsBlank: true }))
        {
            _problems.Add(
                entry.Origin,
                Full(key),
                $"Under {Full(key)} stand keys with their values.",
                $"Write each on a line of its own, indented, such as: {example}"
            );
        }

        return null;
    }

    /// <summary>The list under a key, a level of keys each; a single level may stand without its list.</summary>
    public IReadOnlyList<MapNode> Maps(string key, string example)
    {
        if (!_entries.TryGetValue(key, out var entry))
        {
            return [];
        }

        var items = entry.Value switch
        {
            ListNode list => list.Items,
            TextNode { IsBlank: true } => [],
            _ => [entry.Value],
        };
        foreach (var odd in items.Where(i => i is not (MapNode or ReportedNode)))
        {
            _problems.Add(
                odd.Origin.Line == 0 ? entry.Origin : odd.Origin,
                Full(key),
                $"Each part of {Full(key)} is a list of keys and values.",
                $"Write it as: - {example}"
            );
        }

        return [.. items.OfType<MapNode>()];
    }

    /// <summary>A date written year-month-day; nothing, reported, where it is none.</summary>
    public DateOnly? Date(string key, TextNode? text)
    {
        if (text is null)
        {
            return null;
        }

        if (
            DateOnly.TryParseExact(
                text.Text,
                "yyyy-MM-dd",
                CultureInfo.InvariantCulture,
                DateTimeStyles.None,
                out var date
            )
        )
        {
            return date;
        }

        _problems.Add(
            text.Origin,
            Full(key),
            $"{Full(key)} is {Say.Quote(text.Text)}, which is no date of the calendar.",
            "Write year-month-day, such as 2026-03-14."
        );
        return null;
    }

    private string Full(string key) => _path.Length == 0 ? key : $"{key} (under {_path})";
}
