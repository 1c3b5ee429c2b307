using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;

namespace ProtocolKit.Language.Parsing;

/// <summary>
/// Reads a file's lines into statements, line by line: a wrong line is reported and kept as a broken one,
/// and what is indented under it is read all the same.
/// </summary>
internal sealed class StatementReader(SourceText source, DiagnosticBag diagnostics)
{
    private readonly LineReader _lines = new(source, diagnostics);

    public IReadOnlyList<Statement> Read(IReadOnlyList<Line> lines)
    {
        var statements = new List<Statement>(lines.Count);
        foreach (var line in lines)
        {
            statements.Add(Top(line));
        }

        return statements;
    }

    private Statement Top(Line line)
    {
        var statement = ReadByWord(line, TopLineParsers.ByWord, "at the margin") ?? Broken(line);
        ReadUnder(line, line.First.ToStringValue(), statement);
        return statement;
    }

    /// <summary>What belongs under a statement depends on its first word, even when the rest of it is wrong.</summary>
    private void ReadUnder(Line line, string word, Statement statement)
    {
        switch (word)
        {
            case "protocol":
                ReadBody(line, TopLineParsers.Header, Body(statement), "under protocol");
                break;
            case "module":
                ReadBody(line, ModuleHeaderWords, Body(statement), "under module");
                break;
            case "family" or "task":
                TaskBody(line, statement);
                break;
            case "section":
                SectionBody(line, statement);
                break;
            case "caution":
                ReadLines(line, TopLineParsers.Cover, (statement as CautionBlock)?.Covers);
                break;
            case "scale":
                ReadLines(line, TopLineParsers.Level, (statement as ScaleBlock)?.Levels);
                break;
            case "giving":
                ReadLines(line, TopLineParsers.NameList, (statement as GivingOrderBlock)?.Lines);
                break;
            default:
                new RuleReader(_lines).ReadUnder(line, word, statement);
                break;
        }
    }

    private static readonly Dictionary<string, TokenListParser<TokenKind, Statement>> ModuleHeaderWords = new(
        StringComparer.Ordinal
    )
    {
        ["title"] = TopLineParsers.Header["title"],
    };

    private void SectionBody(Line line, Statement statement)
    {
        var body = (statement as SectionBlock)?.Body ?? Body(statement);
        foreach (var child in line.Children)
        {
            var word = child.First.ToStringValue();
            if (word == "text")
            {
                Keep(_lines.Read(child, TopLineParsers.Introduction), body);
            }
            else
            {
                var inner = ReadByWord(child, InSection, "under section") ?? Broken(child);
                body.Add(inner);
                ReadUnder(child, word, inner);
            }
        }
    }

    private static readonly Dictionary<string, TokenListParser<TokenKind, Statement>> InSection = new(
        StringComparer.Ordinal
    )
    {
        ["task"] = TopLineParsers.ByWord["task"],
        ["measure"] = TopLineParsers.ByWord["measure"],
        ["score"] = TopLineParsers.ByWord["score"],
    };

    private void TaskBody(Line line, Statement statement)
    {
        var body = statement switch
        {
            TaskBlock task => task.Body,
            FamilyBlock family => family.Body,
            _ => Body(statement),
        };
        foreach (var child in line.Children)
        {
            var inner = ReadByWord(child, TaskLineParsers.ByWord, "under a task");
            Keep(inner, body);
            if (inner is ResponseLine { Kind: Model.ResponseKind.Choice } choice)
            {
                ReadLines(child, TaskLineParsers.Option, choice.Options);
            }
            else
            {
                _lines.RefuseChildren(child);
            }
        }
    }

    private void ReadBody(
        Line line,
        Dictionary<string, TokenListParser<TokenKind, Statement>> words,
        List<Statement> into,
        string where
    )
    {
        foreach (var child in line.Children)
        {
            Keep(ReadByWord(child, words, where), into);
            _lines.RefuseChildren(child);
        }
    }

    private void ReadLines<T>(Line line, TokenListParser<TokenKind, T> parser, List<T>? into)
        where T : Statement
    {
        foreach (var child in line.Children)
        {
            if (_lines.Read(child, parser) is { } statement)
            {
                into?.Add(statement);
            }

            _lines.RefuseChildren(child);
        }
    }

    private Statement? ReadByWord(
        Line line,
        Dictionary<string, TokenListParser<TokenKind, Statement>> words,
        string where
    )
    {
        var word = line.First.ToStringValue();
        if (line.First.Kind == TokenKind.Name && words.TryGetValue(word, out var parser))
        {
            var statement = _lines.Read(line, parser);
            if (statement is OutcomeBlock outcome)
            {
                RuleReader.KeepInlineFormula(_lines, line, outcome);
            }

            return statement;
        }

        if (line.First.Kind == TokenKind.Name)
        {
            _lines.Report(line.First.Place(), Places.NotHere(word, words.Keys, where));
        }
        else if (line.First.Kind != TokenKind.Stray)
        {
            _lines.Report(line.First.Place(), LineMessages.NoWord(word.Length <= 40 ? word : word[..37] + "…"));
        }

        return null;
    }

    private BrokenStatement Broken(Line line)
    {
        var name =
            line.Tokens.Length > 1 && line.Tokens[1].Kind == TokenKind.Name ? line.Tokens[1].ToStringValue() : null;
        return new BrokenStatement(name) { Source = source, Place = line.Place };
    }

    private static List<Statement> Body(Statement statement) =>
        statement switch
        {
            ProtocolHeader header => header.Body,
            ModuleHeader header => header.Body,
            BrokenStatement broken => broken.Body,
            _ => [],
        };

    private static void Keep(Statement? statement, List<Statement> into)
    {
        if (statement is not null)
        {
            into.Add(statement);
        }
    }
}
