using ProtocolKit.Emit;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace ProtocolKit.Workspace.Files;

/// <summary>
/// A team's settings: a file <c>settings.yaml</c> beside the protocol, with <c>letterhead</c> (<c>name</c>, <c>lines</c>,
/// <c>call</c>) and <c>ink</c>. Without the file pages have no letterhead and are black.
/// </summary>
public static class TeamSettings
{
    public const string FileName = "settings.yaml";

    /// <exception cref="FileProblemException">It can't be read, has a word it may not have, or an ink too pale to copy.</exception>
    public static HouseStyle Beside(string protocolPath)
    {
        var path = Path.Combine(Path.GetDirectoryName(Path.GetFullPath(protocolPath)) ?? ".", FileName);
        return File.Exists(path) ? Of(TextFile.Read(path)) : HouseStyle.Plain;
    }

    /// <exception cref="FileProblemException">As for <see cref="Beside"/>.</exception>
    internal static HouseStyle Of(string text)
    {
        try
        {
            var stream = new YamlStream();
            stream.Load(new StringReader(text));
            return stream.Documents.Count == 0 ? HouseStyle.Plain : Read(stream.Documents[0].RootNode);
        }
        catch (YamlException bad)
        {
            throw Problem($"line {bad.Start.Line} can't be read: {bad.Message}");
        }
    }

    private static HouseStyle Read(YamlNode root)
    {
        var (style, ink) = (HouseStyle.Plain, HouseStyle.Black);
        foreach (var (key, value) in Entries(root, "the file"))
        {
            switch (key)
            {
                case "letterhead":
                    style = Letterhead(value);
                    break;
                case "ink":
                    ink = Ink(Text(value, key));
                    break;
                default:
                    throw Problem($"\"{key}\" is no setting. There are: letterhead, ink.");
            }
        }

        return style with
        {
            Ink = ink,
        };
    }

    private static HouseStyle Letterhead(YamlNode node)
    {
        var style = HouseStyle.Plain;
        foreach (var (key, value) in Entries(node, "letterhead"))
        {
            style = key switch
            {
                "name" => style with { Name = Text(value, key) },
                "call" => style with { Call = Text(value, key) },
                "lines" when value is YamlSequenceNode lines => style with
                {
                    Lines = [.. lines.Children.Select(l => Text(l, key))],
                },
                "lines" => style with { Lines = [Text(value, key)] },
                _ => throw Problem($"\"{key}\" is no part of a letterhead. There are: name, lines, call."),
            };
        }

        return style;
    }

    private static string Ink(string written) =>
        !HouseStyle.IsWritten(written)
            ? throw Problem(
                $"the ink is \"{written}\". Write it as six hexadecimal digits in quotes, as in \"#1f3a5f\"."
            )
        : !HouseStyle.IsInk(written)
            ? throw Problem(
                $"the ink {written} is too pale: copied twice in black and white it would be lost. Take a darker one."
            )
        : written.ToLowerInvariant();

    private static IEnumerable<(string Key, YamlNode Value)> Entries(YamlNode node, string where) =>
        node is YamlMappingNode map
            ? map.Children.Select(c => (Text(c.Key, where), c.Value))
            : throw Problem($"{where} must hold lines such as name: \"Our clinic\".");

    private static string Text(YamlNode node, string key) =>
        node is YamlScalarNode { Value: { } text }
        && text.Length <= LongestText
        && !text.Contains('\n', StringComparison.Ordinal)
            ? text.Trim()
            : throw Problem($"{key} must be a text of one line, at most {LongestText} characters.");

    private const int LongestText = 120;

    private static FileProblemException Problem(string what) => new($"{FileName}: {what}");
}
