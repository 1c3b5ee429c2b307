namespace ProtocolKit.Model;

/// <summary>
/// Where something stands in a text: file name as given by the caller, line and column from 1,
/// length in UTF-16 characters (at least 0).
/// </summary>
public readonly record struct Origin(string File, int Line, int Column, int Length)
{
    /// <summary>Used where a thing has no place in a text, such as one made by a test.</summary>
    public static Origin None { get; } = new("", 0, 0, 0);

    public override string ToString() => Line == 0 ? File : $"{File}:{Line}:{Column}";
}
