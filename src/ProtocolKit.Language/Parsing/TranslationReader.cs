using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;
using LineParsers = System.Collections.Generic.Dictionary<
    string,
    Superpower.TokenListParser<ProtocolKit.Language.Lexing.TokenKind, ProtocolKit.Language.Tree.Statement>
>;

namespace ProtocolKit.Language.Parsing;

/// <summary>Reads the file of a translation: its header, then the texts of the protocol with what they become.</summary>
internal sealed class TranslationReader(SourceText source, DiagnosticBag diagnostics)
{
    private static readonly LineParsers Top = new(StringComparer.Ordinal)
    {
        ["language"] = After("language", Literal).Select(v => (Statement)new LanguageLine(v)),
        ["translation"] =
            from start in First("translation")
            from protocol in Name
            from to in Keyword("to")
            from language in Name.Named("a language tag such as de")
            select (Statement)new TranslationHeader(protocol, language),
        ["text"] =
            from start in First("text")
            from original in Text
            from task in Keyword("in").IgnoreThen(Name).Select(n => (Word?)n).OptionalOrDefault()
            select (Statement)new TextEntry(original, task),
    };

    private static readonly LineParsers Header = new(StringComparer.Ordinal)
    {
        ["status"] =
            from start in First("status")
            from reviewed in Keyword("reviewed")
                .Select(_ => true)
                .Or(Keyword("unreviewed").Select(_ => false))
            from text in Text
            select (Statement)new StatusLine(reviewed, text),
        ["cut-offs"] =
            from start in First("cut-offs")
            from shown in Keyword("shown")
            from text in Text
            select (Statement)new CutOffsShownLine(text),
    };

    private static readonly LineParsers Entry = new(StringComparer.Ordinal)
    {
        ["becomes"] = After("becomes", Text).Select(t => (Statement)new BecomesLine(t)),
    };

    private readonly LineReader _lines = new(source, diagnostics);

    public IReadOnlyList<Statement> Read(IReadOnlyList<Line> lines) =>
        [.. lines.Select(l => Read(l, Top)).OfType<Statement>()];

    private Statement? Read(Line line, LineParsers words)
    {
        var word = _lines.WordOf(line, words);
        var statement = word is null ? null : _lines.Read(line, words[word]);
        switch (word)
        {
            case "translation":
                Under(line, Header, statement, s => (statement as TranslationHeader)?.Lines.Add(s));
                break;
            case "text":
                Under(line, Entry, statement, s => (statement as TextEntry)?.Becomes.Add((BecomesLine)s));
                break;
            case not null:
                _lines.RefuseChildren(line);
                break;
        }

        return statement;
    }

    private void Under(Line line, LineParsers words, Statement? parent, Action<Statement> keep)
    {
        foreach (var child in line.Children)
        {
            if (Read(child, words) is { } statement)
            {
                keep(statement);
            }
            else if (parent is not null)
            {
                parent.Incomplete = true;
            }
        }
    }
}
