using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Layout;
using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using Superpower;

namespace ProtocolKit.Language.Parsing;

/// <summary>Reads what is indented under measures, scores, cut-offs, actions, claims, re-tests and texts.</summary>
internal sealed class RuleReader(LineReader lines)
{
    public void ReadUnder(Line line, string word, Statement statement)
    {
        switch (word)
        {
            case "measure" or "score":
                OutcomeBody(line, statement);
                break;
            case "cut-offs":
                new TableReader(lines).Read(line, statement);
                break;
            case "side":
                Sides(line, statement);
                break;
            case "table":
                new LookupReader(lines).Read(line, statement);
                break;
            case "actions":
                Actions(line, statement);
                break;
            case "claim":
                ClaimRule(line, statement);
                break;
            case "re-test":
                Lines(
                    line,
                    ReportLineParsers.Error,
                    statement,
                    s => (statement as ReTestBlock)?.Errors.Add((ErrorLine)s)
                );
                break;
            case "readiness":
                ReadinessBody(line, statement);
                break;
            case "letter" or "note" or "passage":
                Lines(
                    line,
                    ReportLineParsers.Paragraph,
                    statement,
                    s => (statement as ReportTextBlock)?.Paragraphs.Add((TextOnlyLine)s)
                );
                break;
            case "case-history":
                Questions(line, statement);
                break;
            case "consents":
                Lines(
                    line,
                    RuleLineParsers.Consent,
                    statement,
                    s => (statement as ConsentsBlock)?.Consents.Add((ConsentLine)s)
                );
                break;
            default:
                if (statement is not BrokenStatement)
                {
                    lines.RefuseChildren(line);
                    statement.Incomplete |= line.Children.Count > 0;
                }

                break;
        }
    }

    /// <summary>Keeps the formula of <c>measure d = a - b</c> as written.</summary>
    public static void KeepInlineFormula(LineReader lines, Line line, OutcomeBlock outcome)
    {
        if (outcome.InlineValue is null)
        {
            return;
        }

        var start = Array.FindIndex(line.Tokens, t => t.Kind == TokenKind.Equals) + 1;
        outcome.InlineWritten = lines.Written(line.Tokens[start], line.Last);
        CheckMinus(lines, line, start);
    }

    /// <summary>Keeps the condition of <c>skip when a = 0, left out</c> as written.</summary>
    public static void KeepCondition(LineReader lines, Line line, Statement skip)
    {
        var comma = Array.FindLastIndex(line.Tokens, t => t.Kind == TokenKind.Comma);
        skip.Written = lines.Written(line.Tokens[2], line.Tokens[comma - 1]);
        CheckMinus(lines, line, 2);
    }

    /// <summary>A minus after a value is a subtraction and needs a space on both sides.</summary>
    public static void CheckMinus(LineReader lines, Line line, int from)
    {
        for (var i = Math.Max(1, from); i + 1 < line.Tokens.Length; i++)
        {
            var (before, minus, after) = (line.Tokens[i - 1], line.Tokens[i], line.Tokens[i + 1]);
            if (minus.Kind != TokenKind.Minus || !EndsValue(before))
            {
                continue;
            }

            if (before.End() == minus.Span.Position.Absolute || minus.End() == after.Span.Position.Absolute)
            {
                var isPlain =
                    before.Kind != TokenKind.CloseBracket && after.Kind is TokenKind.Name or TokenKind.Number;
                lines.Report(
                    isPlain ? before.Place().To(after.Place()) : minus.Place(),
                    LineMessages.MinusNeedsSpaces(
                        isPlain ? $"{lines.Written(before, before)} - {lines.Written(after, after)}" : null
                    )
                );
            }
        }
    }

    private static bool EndsValue(Superpower.Model.Token<TokenKind> token) =>
        token.Kind is TokenKind.Number or TokenKind.CloseBracket
        || (token.Kind == TokenKind.Name && !IsOperatorWord(token));

    private static bool IsOperatorWord(Superpower.Model.Token<TokenKind> token) =>
        token.ToStringValue()
            is "range"
                or "within"
                or "most"
                or "error"
                or "after"
                or "then"
                or "otherwise"
                or "and"
                or "or"
                or "if"
                or "to"
                or "when"
                or "not";

    private void OutcomeBody(Line line, Statement parent)
    {
        var outcome = parent as OutcomeBlock;
        foreach (var child in line.Children)
        {
            var word = child.First.Kind == TokenKind.Name ? child.First.ToStringValue() : "";
            var parser = RuleLineParsers.OutcomeLines.GetValueOrDefault(word, RuleLineParsers.Value);
            if (lines.Read(child, parser) is { } statement)
            {
                var start = child.First.Kind == TokenKind.Equals && child.Tokens.Length > 1 ? 1 : 0;
                statement.Written = lines.Written(child.Tokens[start], child.Last);
                outcome?.Body.Add(statement);
                CheckMinus(lines, child, start);
            }
            else
            {
                parent.Incomplete = true;
            }

            lines.RefuseChildren(child);
        }
    }

    private void Questions(Line line, Statement parent)
    {
        foreach (var child in line.Children)
        {
            var ask = lines.Read(child, RuleLineParsers.Ask) as AskLine;
            if (ask is null)
            {
                parent.Incomplete = true;
            }
            else
            {
                (parent as CaseHistoryBlock)?.Questions.Add(ask);
            }

            Lines(child, RoutingLineParsers.Gate, ask ?? parent, s => ask?.Gates.Add((GateLine)s));
        }
    }

    private void Sides(Line line, Statement parent)
    {
        var sides = (parent as OutcomeBlock)?.Sides;
        foreach (var child in line.Children)
        {
            var word = child.First.Kind == TokenKind.Name ? child.First.ToStringValue() : "";
            switch (lines.Read(child, SideParsers.Line(word)))
            {
                case SidedAnswersLine answers:
                    answers.Written = lines.Written(child.First, child.Last);
                    sides?.Answers.Add(answers);
                    break;
                case DirectionsLine directions:
                    sides?.Directions.Add(directions);
                    break;
                case AgreeLine agree:
                    sides?.Agree.Add(agree);
                    break;
                default:
                    parent.Incomplete = true;
                    break;
            }

            lines.RefuseChildren(child);
        }
    }

    private void ReadinessBody(Line line, Statement parent)
    {
        foreach (var child in line.Children)
        {
            var word = lines.WordOf(child, ReportLineParsers.ReadinessLines);
            if (
                word is not null
                && lines.Read(child, ReportLineParsers.ReadinessLines[word]) is { } statement
            )
            {
                (parent as ReadinessBlock)?.Lines.Add(statement);
            }
            else
            {
                parent.Incomplete = true;
            }

            lines.RefuseChildren(child);
        }
    }

    private void Actions(Line line, Statement parent)
    {
        var into = (parent as ActionsBlock)?.Actions;
        foreach (var child in line.Children)
        {
            var action = lines.Read(child, RuleLineParsers.Action) as ActionLine;
            if (action is not null)
            {
                into?.Add(action);
                KeepInlineCondition(child, action);
            }
            else
            {
                parent.Incomplete = true;
            }

            Lines(
                child,
                l => l.First.Is("worse") ? RuleLineParsers.WorseOnPurpose : RuleLineParsers.WhenOnly,
                action ?? parent,
                s =>
                {
                    if (s is WorseOnPurposeLine worse)
                    {
                        action?.Worse.Add(worse);
                    }
                    else
                    {
                        action?.Conditions.Add((WhenLine)s);
                    }
                }
            );
        }
    }

    private void KeepInlineCondition(Line line, ActionLine action)
    {
        var when = Array.FindIndex(line.Tokens, t => t.Is("when"));
        if (action.InlineWhen is not null && when >= 0)
        {
            action.InlineWritten = lines.Written(line.Tokens[when + 1], line.Last);
            CheckMinus(lines, line, when + 1);
        }
    }

    private void ClaimRule(Line line, Statement parent)
    {
        var claim = parent as ClaimBlock;
        if (claim?.Rule is { } inline)
        {
            var when = Array.FindIndex(line.Tokens, t => t.Is("when"));
            inline.Written = lines.Written(line.Tokens[when], line.Last);
            inline.Source = claim.Source;
            inline.Place = claim.Place;
        }

        Lines(
            line,
            RuleLineParsers.ClaimRuleLine,
            parent,
            s =>
            {
                if (claim is not null)
                {
                    claim.Rule = (ClaimRule)s;
                }
            }
        );
    }

    private void Lines(
        Line line,
        TokenListParser<TokenKind, Statement> parser,
        Statement parent,
        Action<Statement> keep
    ) => Lines(line, _ => parser, parent, keep);

    private void Lines(
        Line line,
        Func<Line, TokenListParser<TokenKind, Statement>> parserOf,
        Statement parent,
        Action<Statement> keep
    )
    {
        foreach (var child in line.Children)
        {
            if (lines.Read(child, parserOf(child)) is { } statement)
            {
                statement.Written = lines.Written(child.Tokens[child.Tokens.Length > 1 ? 1 : 0], child.Last);
                if (child.First.Is("when"))
                {
                    CheckMinus(lines, child, 1);
                }

                keep(statement);
            }
            else
            {
                parent.Incomplete = true;
            }

            lines.RefuseChildren(child);
        }
    }
}
