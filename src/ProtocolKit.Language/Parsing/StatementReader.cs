using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;
using LineParsers = System.Collections.Generic.Dictionary<
    string,
    Superpower.TokenListParser<ProtocolKit.Language.Lexing.TokenKind, ProtocolKit.Language.Tree.Statement>
>;

namespace ProtocolKit.Language.Parsing;

/// <summary>
/// Reads a file's lines into statements, line by line: a wrong line is reported and kept as a broken one,
/// and what is indented under it is read all the same. A misspelt first word is read as the one it must be, a
/// statement that stands too deep as if it stood at the margin.
/// </summary>
internal sealed class StatementReader(SourceText source, DiagnosticBag diagnostics)
{
    private readonly LineReader _lines = new(source, diagnostics);
    private readonly List<Statement> _statements = [];
    private readonly RuleReader _rules = new(new LineReader(source, diagnostics));

    public IReadOnlyList<Statement> Read(IReadOnlyList<Line> lines)
    {
        foreach (var line in lines)
        {
            Top(line);
        }

        TellStray(lines);
        return _statements;
    }

    private void Top(Line line)
    {
        if (line.IsTooDeep)
        {
            _statements.Add(Broken(line, line.First.ToStringValue()));
            return;
        }

        var before = _statements.Count > 0 ? _statements[^1] : null;
        if (Statement(line, TopLineParsers.ByWord, before) is { } statement)
        {
            _statements.Add(statement);
        }
    }

    /// <summary>A statement with what is indented under it; null where nobody can know what the line is.</summary>
    private Statement? Statement(Line line, LineParsers words, Statement? before)
    {
        var word = line.IsMisplaced ? _lines.RefuseHere(line, words) : _lines.WordOf(line, words);
        if (word is null)
        {
            return Unread(line, words, before);
        }

        var statement = _lines.Read(line, words[word]) ?? Broken(line, word);
        if (statement is OutcomeBlock outcome)
        {
            RuleReader.KeepInlineFormula(_lines, line, outcome);
        }
        else if (statement is SkipLine)
        {
            RuleReader.KeepCondition(_lines, line, statement);
        }

        ReadUnder(line, word, statement);
        return statement;
    }

    /// <summary>
    /// A line that can't stand here is a statement of its own where it has lines under it, or stands among statements; else it may
    /// have been meant for the one before it. A whole statement is read as if it stood at the margin.
    /// </summary>
    private BrokenStatement? Unread(Line line, LineParsers words, Statement? before)
    {
        var isTop =
            words != TopLineParsers.ByWord
            && line.First.Kind == TokenKind.Name
            && BodyWords.MayStand(null, line.Word) == true;
        if (
            HoldsStatements(words)
            && LineReader.RunTogether(line.First.ToStringValue(), words.Keys) is var (word, rest)
        )
        {
            var statement = Broken(line, word, rest);
            ReadUnder(line, word, statement);
            return statement;
        }

        if (
            !isTop
            && (line.Children.Count > 0 || (HoldsStatements(words) && line.First.Kind == TokenKind.Name))
            && !line.IsMisplaced
        )
        {
            return Broken(line, "");
        }

        if (before is not null)
        {
            before.Incomplete = true;
        }

        if (isTop)
        {
            Top(line);
        }

        return null;
    }

    /// <summary>What belongs under a statement depends on its first word, even when the rest of it is wrong.</summary>
    private void ReadUnder(Line line, string word, Statement statement)
    {
        if (BodyWords.Of(word) is { } words)
        {
            ReadBody(line, words, statement);
            return;
        }

        switch (word)
        {
            case "caution":
                ReadLines(line, TopLineParsers.Cover, statement, (statement as CautionBlock)?.Covers);
                break;
            case "scale":
                ReadLines(line, TopLineParsers.Level, statement, (statement as ScaleBlock)?.Levels);
                break;
            case "giving":
                ReadLines(line, TopLineParsers.NameList, statement, (statement as GivingOrderBlock)?.Lines);
                break;
            case "choice":
                ReadLines(line, TaskLineParsers.Option, statement, (statement as ResponseLine)?.Options);
                break;
            default:
                _rules.ReadUnder(line, word, statement);
                break;
        }
    }

    private void ReadBody(Line line, LineParsers words, Statement parent)
    {
        var into = BodyOf(parent);
        foreach (var child in line.Children)
        {
            var inner = Statement(child, words, into.Count > 0 ? into[^1] : null);
            parent.Incomplete |=
                inner is null or BrokenStatement
                || (inner.Incomplete && inner is not (TaskBlock or OutcomeBlock or ResponseLine));
            if (inner is not null)
            {
                into.Add(inner);
            }
        }
    }

    private static bool HoldsStatements(LineParsers words) =>
        words == TopLineParsers.ByWord || words == BodyWords.OfSection;

    private void ReadLines<T>(
        Line line,
        TokenListParser<TokenKind, T> parser,
        Statement parent,
        List<T>? into
    )
        where T : Statement
    {
        foreach (var child in line.Children)
        {
            if (_lines.Read(child, parser) is { } statement)
            {
                into?.Add(statement);
            }
            else
            {
                parent.Incomplete = true;
            }

            _lines.RefuseChildren(child);
        }
    }

    /// <summary>
    /// Its names: the word after the first, and all words before a text as the one name they may be; of a line that begins like
    /// none, each of them too.
    /// </summary>
    /// <param name="joined">The name that was written into the first word.</param>
    private BrokenStatement Broken(Line line, string word, string? joined = null)
    {
        var pieces = line.Tokens.Skip(1).TakeWhile(t => t.Kind != TokenKind.Text).ToList();
        List<string> names = [.. pieces.Where(t => t.Kind == TokenKind.Name).Select(t => t.ToStringValue())];
        var whole = string.Join(
            '-',
            pieces.Where(t => t.Kind is TokenKind.Name or TokenKind.Number).Select(t => t.ToStringValue())
        );
        return new BrokenStatement(
            word,
            [
                .. joined is not null ? [joined]
                : word.Length > 0 ? names.Take(1)
                : names,
                .. whole.Length > 0 ? [whole] : Array.Empty<string>(),
            ]
        )
        {
            Source = source,
            Place = line.Place,
        };
    }

    private static List<Statement> BodyOf(Statement statement) =>
        statement switch
        {
            ProtocolHeader header => header.Body,
            ModuleHeader header => header.Body,
            TaskBlock task => task.Body,
            FamilyBlock family => family.Body,
            SectionBlock section => section.Body,
            BrokenStatement broken => broken.Body,
            _ => [],
        };

    /// <summary>Characters that mean nothing, in lines about which nothing else was said.</summary>
    private void TellStray(IReadOnlyList<Line> lines)
    {
        for (var i = 0; i < lines.Count; i++)
        {
            var line = lines[i];
            if (line.Stray is { } stray && !diagnostics.HasErrorOn(source, stray.Place.Line))
            {
                diagnostics.Report(source, stray.Place, stray.Message);
            }

            TellStray(line.Children);
        }
    }
}
