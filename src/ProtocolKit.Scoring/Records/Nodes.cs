using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>The small tree a record's text is read into: texts, lists and keys, each with its place.</summary>
internal abstract record Node(Origin Origin);

/// <summary>Every value is a text first: what <c>yes</c> or <c>1.10</c> means is decided by its key.</summary>
internal sealed record TextNode(Origin Origin, string Text, bool IsQuoted) : Node(Origin)
{
    public bool IsBlank =>
        string.IsNullOrWhiteSpace(Text) || (!IsQuoted && Text is "~" or "null" or "Null" or "NULL");
}

internal sealed record ListNode(Origin Origin, IReadOnlyList<Node> Items) : Node(Origin);

internal sealed record MapNode(Origin Origin, IReadOnlyList<Entry> Entries) : Node(Origin);

/// <summary>Stands for something already reported, so that one mistake is told once.</summary>
internal sealed record ReportedNode(Origin Origin) : Node(Origin);

internal sealed record Entry(string Key, Origin Origin, Node Value);
