using System.Globalization;
using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Which version of the language a file is written in. A later program reads an earlier file by the rules of the version it
/// names, so that it means what it meant; an earlier program says of a later file that it is one, and nothing else.
/// </summary>
internal static class LanguageVersion
{
    public const int Newest = 1;

    /// <summary>True, after reporting, where the first line names a version later than any known.</summary>
    public static bool IsLater(SourceText source, DiagnosticBag diagnostics)
    {
        for (var number = 1; ; number++)
        {
            var line = source.LineSpan(number);
            var bare = line.Trim();
            if (bare.Length > 0 && bare[0] != '#')
            {
                return IsLater(source, number, line.ToString(), diagnostics);
            }

            if (line.IsEmpty && number > LinesLookedAt)
            {
                return false;
            }
        }
    }

    private const int LinesLookedAt = 1000;

    private static bool IsLater(SourceText source, int number, string line, DiagnosticBag diagnostics)
    {
        var words = line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        if (
            words.Length < 2
            || words[0] != "language"
            || !int.TryParse(words[1], NumberStyles.None, CultureInfo.InvariantCulture, out var version)
            || version <= Newest
        )
        {
            return false;
        }

        var column = line.IndexOf(words[1], StringComparison.Ordinal) + 1;
        diagnostics.Report(
            source,
            new Place(number, column, words[1].Length),
            MeaningMessages.Version(words[1])
        );
        return true;
    }
}
