namespace ProtocolKit.Language.Diagnostics;

/// <summary>A change of one place of the file a diagnostic is about. A place of no length is an insertion.</summary>
public sealed record QuickEdit(Place Place, string Text)
{
    /// <summary>The whole text after the change.</summary>
    /// <exception cref="ArgumentException">The place lies outside the text.</exception>
    public string Apply(SourceText source)
    {
        ArgumentNullException.ThrowIfNull(source);
        var start = source.OffsetOf(Place);
        if (start < 0 || start + Place.Length > source.Text.Length)
        {
            throw new ArgumentException("The place lies outside the text.", nameof(source));
        }

        return string.Concat(source.Text.AsSpan(0, start), Text, source.Text.AsSpan(start + Place.Length));
    }
}
