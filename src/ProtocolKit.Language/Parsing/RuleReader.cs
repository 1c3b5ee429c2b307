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
                OutcomeBody(line, statement as OutcomeBlock);
                break;
            case "cut-offs":
                new TableReader(lines).Read(line, statement as CutOffsBlock);
                break;
            case "actions":
                Actions(line, (statement as ActionsBlock)?.Actions);
                break;
            case "claim":
                ClaimRule(line, statement as ClaimBlock);
                break;
            case "re-test":
                Lines(line, RuleLineParsers.Error, s => (statement as ReTestBlock)?.Errors.Add((ErrorLine)s));
                break;
            case "letter" or "note":
                Lines(
                    line,
                    RuleLineParsers.TextOnly,
                    s => (statement as ReportTextBlock)?.Paragraphs.Add((TextOnlyLine)s)
                );
                break;
            case "case-history":
                Lines(line, RuleLineParsers.Ask, s => (statement as CaseHistoryBlock)?.Questions.Add((AskLine)s));
                break;
            case "consents":
                Lines(line, RuleLineParsers.Consent, s => (statement as ConsentsBlock)?.Consents.Add((ConsentLine)s));
                break;
            default:
                if (statement is not BrokenStatement)
                {
                    lines.RefuseChildren(line);
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
                lines.Report(
                    minus.Place(),
                    LineMessages.MinusNeedsSpaces($"{lines.Written(before, before)} - {lines.Written(after, after)}")
                );
            }
        }
    }

    private static bool EndsValue(Superpower.Model.Token<TokenKind> token) =>
        token.Kind is TokenKind.Number or TokenKind.CloseBracket
        || (token.Kind == TokenKind.Name && !IsOperatorWord(token));

    private static bool IsOperatorWord(Superpower.Model.Token<TokenKind> token) =>
        token.Is("then") || token.Is("otherwise") || token.Is("and") || token.Is("or") || token.Is("if") || token.Is("to");

    private void OutcomeBody(Line line, OutcomeBlock? outcome)
    {
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

            lines.RefuseChildren(child);
        }
    }

    private void Actions(Line line, List<ActionLine>? into)
    {
        foreach (var child in line.Children)
        {
            var action = lines.Read(child, RuleLineParsers.Action) as ActionLine;
            if (action is not null)
            {
                into?.Add(action);
                KeepInlineCondition(child, action);
            }

            Lines(child, RuleLineParsers.WhenOnly, s => action?.Conditions.Add((WhenLine)s));
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

    private void ClaimRule(Line line, ClaimBlock? claim)
    {
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
            s =>
            {
                if (claim is not null)
                {
                    claim.Rule = (ClaimRule)s;
                }
            }
        );
    }

    private void Lines(Line line, TokenListParser<TokenKind, Statement> parser, Action<Statement> keep)
    {
        foreach (var child in line.Children)
        {
            if (lines.Read(child, parser) is { } statement)
            {
                statement.Written = lines.Written(child.Tokens[child.Tokens.Length > 1 ? 1 : 0], child.Last);
                CheckMinus(lines, child, 1);
                keep(statement);
            }

            lines.RefuseChildren(child);
        }
    }
}
