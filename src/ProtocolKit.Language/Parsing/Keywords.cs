using System.Collections.Concurrent;
using System.Runtime.CompilerServices;

namespace ProtocolKit.Language.Parsing;

/// <summary>Every word that means something by itself in some place: for highlighting, and to hold the grammar against.</summary>
public static class Keywords
{
    private static readonly ConcurrentDictionary<string, bool> Met = new(StringComparer.Ordinal);

    /// <summary>Units of time are compared as names, without a parser of their own.</summary>
    private static readonly string[] OfUrgency = ["day", "days", "week", "weeks", "month", "months"];

    private static readonly Lazy<IReadOnlyList<string>> Words = new(() =>
    {
        // Parsers are made, and their words met, when their classes are first used.
        foreach (
            var type in typeof(Keywords)
                .Assembly.GetTypes()
                .Where(t => t.Namespace == typeof(Keywords).Namespace)
        )
        {
            if (!type.ContainsGenericParameters)
            {
                RuntimeHelpers.RunClassConstructor(type.TypeHandle);
            }
        }

        return [.. Met.Keys.Concat(OfUrgency).Concat(Places.Words).Distinct().Order(StringComparer.Ordinal)];
    });

    /// <summary>In the order of their letters.</summary>
    public static IReadOnlyList<string> All => Words.Value;

    /// <summary>The first words of statements at the margin, in the order of their letters.</summary>
    /// <remarks>Read when asked for: the parsers themselves are made with words met here.</remarks>
    public static IReadOnlyList<string> Statements =>
        [.. TopLineParsers.ByWord.Keys.Order(StringComparer.Ordinal)];

    internal static void Meet(string word) => Met.TryAdd(word, true);
}
