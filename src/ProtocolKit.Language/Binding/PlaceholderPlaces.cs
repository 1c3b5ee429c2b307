using ProtocolKit.Language.Tree;

namespace ProtocolKit.Language.Binding;

/// <summary>Where in a text, which may go on over several lines, a placeholder stands.</summary>
internal static class PlaceholderPlaces
{
    /// <summary>The place of <c>{name}</c> with its braces; the text's own place where it can't be found.</summary>
    public static Place Of(SourceText source, TextValue text, string name)
    {
        var wanted = "{" + name + "}";
        for (var line = text.Place.Line; ; line++)
        {
            var written = source.LineSpan(line);
            var from = line == text.Place.Line ? text.Place.Column - 1 : 0;
            if (from > written.Length || (from == 0 && !written.TrimStart().StartsWith("\"")))
            {
                return text.Place;
            }

            var at = written[from..].IndexOf(wanted, StringComparison.Ordinal);
            if (at >= 0)
            {
                return new Place(line, from + at + 1, wanted.Length);
            }
        }
    }
}
