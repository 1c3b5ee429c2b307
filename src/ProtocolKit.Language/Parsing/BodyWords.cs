using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using LineParsers = System.Collections.Generic.Dictionary<
    string,
    Superpower.TokenListParser<ProtocolKit.Language.Lexing.TokenKind, ProtocolKit.Language.Tree.Statement>
>;

namespace ProtocolKit.Language.Parsing;

/// <summary>The words with which the lines under a statement begin, for those statements that hold many kinds of lines.</summary>
internal static class BodyWords
{
    public static readonly LineParsers OfModule = new(StringComparer.Ordinal)
    {
        ["title"] = TopLineParsers.Header["title"],
    };

    public static readonly LineParsers OfSection = new(StringComparer.Ordinal)
    {
        ["text"] = TopLineParsers.Introduction,
        ["task"] = TopLineParsers.ByWord["task"],
        ["order"] = RoutingLineParsers.Difficulty,
        ["start"] = RoutingLineParsers.Start,
        ["go"] = RoutingLineParsers.GoBack,
        ["stop"] = RoutingLineParsers.StopAfter,
        ["skip"] = RoutingLineParsers.Skip,
        ["measure"] = TopLineParsers.ByWord["measure"],
        ["score"] = TopLineParsers.ByWord["score"],
    };

    /// <summary>Null where the lines under it begin otherwise, or where none may stand.</summary>
    public static LineParsers? Of(ReadOnlySpan<char> word) =>
        word switch
        {
            "protocol" => TopLineParsers.Header,
            "module" => OfModule,
            "family" or "task" => TaskLineParsers.ByWord,
            "section" => OfSection,
            _ => null,
        };

    /// <summary>Whether lines of many kinds stand under this one.</summary>
    public static bool HasOf(Line line) => line.First.Kind == TokenKind.Name && Of(line.Word) is not null;

    /// <summary>Whether any lines may stand under this one.</summary>
    public static bool MayHoldLines(Line line) =>
        line.First.Kind == TokenKind.Name
        && line.Word
            is "protocol"
                or "module"
                or "family"
                or "task"
                or "section"
                or "measure"
                or "score"
                or "side"
                or "table"
                or "cut-offs"
                or "actions"
                or "claim"
                or "scale"
                or "choice";

    /// <summary>Whether a line that begins with this word may stand under another; null where only its reader knows.</summary>
    /// <param name="parent">Null for the margin.</param>
    public static bool? MayStand(Line? parent, ReadOnlySpan<char> word)
    {
        if (parent is null)
        {
            return Has(TopLineParsers.ByWord, word);
        }

        return parent.First.Kind == TokenKind.Name && Of(parent.Word) is { } words ? Has(words, word)
            : Has(TopLineParsers.ByWord, word) ? false
            : null;
    }

    private static bool Has(LineParsers words, ReadOnlySpan<char> word) =>
        words.GetAlternateLookup<ReadOnlySpan<char>>().ContainsKey(word);

    /// <summary>Whether the word may be a misspelt one of those that begin lines at the margin.</summary>
    public static bool IsNearTop(string word) =>
        !Places.IsKnown(word)
        && (
            Suggest.Nearest(word, TopLineParsers.ByWord.Keys) is not null
            || LineReader.RunTogether(word, TopLineParsers.ByWord.Keys) is not null
            || (
                word.Length > 2
                && TopLineParsers.ByWord.Keys.Any(k => k.StartsWith(word, StringComparison.Ordinal))
            )
        );
}
