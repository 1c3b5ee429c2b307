using System.Globalization;
using ProtocolKit.Model;
using ProtocolKit.Workspace.Files;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace ProtocolKit.Workspace.Worksheets;

/// <summary>
/// How children look who earn each level of a scale, in words that are not the level's own: a file beside the protocol,
/// <c>NAME.vignettes.yaml</c>, with scale, points, and at least <see cref="Fewest"/> wordings each.
/// </summary>
public sealed class Vignettes
{
    /// <summary>With fewer, a student soon knows the wordings by heart.</summary>
    public const int Fewest = 4;

    private readonly Dictionary<(string Scale, Rational Points), IReadOnlyList<string>> _wordings;

    private Vignettes(Dictionary<(string, Rational), IReadOnlyList<string>> wordings) => _wordings = wordings;

    /// <summary>The wordings of one level.</summary>
    public IReadOnlyList<string> Of(Scale scale, Rational points)
    {
        ArgumentNullException.ThrowIfNull(scale);
        return _wordings[(scale.Name, points)];
    }

    /// <summary>Where the wordings of a protocol are kept.</summary>
    /// <param name="language">Of a translation, whose wordings stand in a file of their own; null for the protocol as written.</param>
    public static string PathFor(string protocolPath, string? language = null) =>
        Path.ChangeExtension(protocolPath, (language is null ? "" : language + ".") + "vignettes.yaml");

    /// <exception cref="FileProblemException">The file is missing, can't be read, or a level has too few or wrong wordings; all are listed.</exception>
    public static Vignettes Beside(string protocolPath, Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var path = PathFor(protocolPath, protocol.Translated is null ? null : protocol.Language);
        if (!File.Exists(path))
        {
            throw new FileProblemException(
                $"{Path.GetFileName(path)} is missing. Write beside the protocol, for each level of each scale, at least "
                    + $"{Fewest} ways a child who earns it may look, in other words than the level's own."
            );
        }

        return From(TextFile.Read(path), protocol);
    }

    /// <param name="text">The content of such a file.</param>
    /// <exception cref="FileProblemException">As for <see cref="Beside"/>.</exception>
    public static Vignettes From(string text, Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var wordings = Read(text);
        var problems = new List<string>();
        foreach (var scale in ScalesOf(protocol))
        {
            foreach (var level in scale.Levels)
            {
                problems.AddRange(
                    Problems(scale, level, wordings.GetValueOrDefault((scale.Name, level.Points), []))
                );
            }
        }

        return problems.Count == 0
            ? new Vignettes(wordings)
            : throw new FileProblemException(string.Join('\n', problems));
    }

    /// <summary>The scales of the protocol's ratings.</summary>
    private static IEnumerable<Scale> ScalesOf(Protocol protocol) =>
        protocol
            .Tasks.SelectMany(t => t.Responses)
            .Select(r => r.Scale)
            .OfType<Scale>()
            .DistinctBy(s => s.Name);

    private static IEnumerable<string> Problems(Scale scale, Level level, IReadOnlyList<string> wordings)
    {
        var different = wordings.Distinct(StringComparer.OrdinalIgnoreCase).Count();
        if (different < Fewest)
        {
            yield return $"Vignettes: {scale.Name} {level.Points} has {different} different wordings; it needs at least {Fewest}.";
        }

        foreach (var wording in wordings)
        {
            var shared = ContentWords.Shared(wording, $"{level.Text} {level.Example}");
            if (shared.Count > 0)
            {
                yield return $"Vignettes: {scale.Name} {level.Points}, “{wording}” says {string.Join(", ", shared)}, as the level itself does. Use other words.";
            }
        }
    }

    private static Dictionary<(string, Rational), IReadOnlyList<string>> Read(string text)
    {
        try
        {
            var stream = new YamlStream();
            stream.Load(new StringReader(text));
            return stream.Documents.Count == 0 ? [] : Scales(stream.Documents[0].RootNode);
        }
        catch (YamlException bad)
        {
            throw new FileProblemException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Vignettes: line {bad.Start.Line} can't be read: {bad.Message}"
                )
            );
        }
    }

    private static Dictionary<(string, Rational), IReadOnlyList<string>> Scales(YamlNode root)
    {
        var wordings = new Dictionary<(string, Rational), IReadOnlyList<string>>();
        foreach (var (scale, levels) in Entries(root, "the file"))
        {
            foreach (var (points, texts) in Entries(levels, scale))
            {
                if (!Rational.TryParse(points, out var number) || texts is not YamlSequenceNode list)
                {
                    throw new FileProblemException(
                        $"Vignettes: under {scale} stand the points of a level, then its wordings as a list."
                    );
                }

                wordings[(scale, number)] =
                [
                    .. list.Children.OfType<YamlScalarNode>().Select(t => t.Value ?? ""),
                ];
            }
        }

        return wordings;
    }

    private static IEnumerable<(string Key, YamlNode Value)> Entries(YamlNode node, string where) =>
        node is YamlMappingNode map
            ? map.Children.Select(c => (((c.Key as YamlScalarNode)?.Value) ?? "", c.Value))
            : throw new FileProblemException($"Vignettes: {where} needs names with what belongs to each.");
}
