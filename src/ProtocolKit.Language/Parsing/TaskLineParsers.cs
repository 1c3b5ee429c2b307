using ProtocolKit.Language.Lexing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;
using Superpower;
using Superpower.Model;
using Superpower.Parsers;
using static ProtocolKit.Language.Parsing.Basic;

namespace ProtocolKit.Language.Parsing;

/// <summary>The lines of a task's or family's body, by their first word.</summary>
internal static class TaskLineParsers
{
    private static readonly Func<TokenList<TokenKind>, bool> AreThoseGiven = Words("of", "those", "given");

    private static readonly TokenListParser<TokenKind, Word> ThoseGiven = Keyword("of")
        .IgnoreThen(Keyword("those"))
        .IgnoreThen(Keyword("given"));

    /// <summary><c>mean of rate of those given</c>; the answer may be left out where there is one.</summary>
    private static readonly TokenListParser<TokenKind, KeepClause> Combined =
        from how in Keyword("mean").Or(Keyword("median")).Or(Keyword("sum"))
        from answer in When(input => !AreThoseGiven(input), Keyword("of"))
            .IgnoreThen(Name.Named("the answer that is put together"))
            .Select(n => (Word?)n)
            .OptionalOrDefault()
        from given in ThoseGiven.Select(_ => true).OptionalOrDefault(false)
        select new KeepClause(how, answer) { OfThoseGiven = given };

    private static readonly TokenListParser<TokenKind, KeepClause> KeepOf =
        from keep in Keyword("keep")
        from clause in (
            from how in Keyword("highest").Or(Keyword("lowest"))
            from decider in Name.Named("the response or measure that decides")
            select new KeepClause(how, decider)
        )
            .Or(Keyword("first").Or(Keyword("last")).Select(how => new KeepClause(how, null)))
            .Or(Combined)
        select clause;

    private static readonly TokenListParser<TokenKind, NumberValue> StepOf = Keyword("step")
        .IgnoreThen(Number);

    private static readonly TokenListParser<TokenKind, SecondTrial> SecondOf =
        from second in Keyword("second")
        from when in Keyword("when")
        from response in Name
        from below in Keyword("below")
        from number in Number
        select new SecondTrial(response, number);

    private static readonly TokenListParser<TokenKind, Statement> Trials =
        from start in First("trials")
        from upTo in Keyword("up").IgnoreThen(Keyword("to")).Select(_ => true).OptionalOrDefault(false)
        from count in Number
        from rest in Comma
            .IgnoreThen(
                SecondOf
                    .Select(s => (object)s)
                    .Or(KeepOf.Select(k => (object)k))
                    .Or(StepOf.Select(n => (object)n))
            )
            .Many()
        select (Statement)
            new TrialsLine(
                count,
                upTo,
                rest.OfType<SecondTrial>().FirstOrDefault(),
                rest.OfType<KeepClause>().FirstOrDefault()
            )
            {
                SaysTwice = rest.GroupBy(r => r.GetType()).Any(g => g.Count() > 1),
                Step = rest.OfType<NumberValue>().FirstOrDefault(),
            };

    private static readonly TokenListParser<TokenKind, ResponseClause> Clause = (
        from start in Keyword("plausible")
        from range in RangeOf
        select (ResponseClause)new PlausibleClause(range, start.Place.To(range.Place))
    )
        .Or(
            from start in Keyword("spans")
            from what in Keyword("intervals").Or(Keyword("onsets"))
            select (ResponseClause)new SpansClause(what, start.Place.To(what.Place))
        )
        .Or(
            from start in Keyword("in")
            from unit in UnitOf
            select (ResponseClause)new UnitClause(unit, start.Place.To(unit.Place))
        )
        .Or(
            from which in Keyword("higher").Or(Keyword("lower")).Or(Keyword("middle"))
            from verb in Keyword("is")
            from better in Keyword("better")
            select (ResponseClause)new BetterClause(which, which.Place.To(better.Place))
        )
        .Or(
            from weak in Keyword("weak")
            from side in Keyword("side")
            from which in Keyword("same").Or(Keyword("opposite"))
            select (ResponseClause)new WeakSideClause(which, weak.Place.To(which.Place))
        )
        .Or(Keyword("qualitative").Select(q => (ResponseClause)new QualitativeClause(q.Place)));

    private static readonly TokenListParser<TokenKind, ResponseClause[]> Clauses = Comma
        .IgnoreThen(Clause)
        .Many();

    private static readonly TokenListParser<TokenKind, Statement> Rate =
        from start in First("rate")
        from first in Name.Named("the name of a scale")
        from scale in Keyword("on").IgnoreThen(Name).Select(n => (Word?)n).OptionalOrDefault()
        from clauses in Clauses
        select (Statement)
            new ResponseLine(ResponseKind.Rating, scale is null ? null : first, start)
            {
                Scale = scale ?? first,
                Clauses = clauses,
            };

    private static readonly TokenListParser<TokenKind, Statement> Count =
        from start in First("count")
        from name in Name.Named("the name of what is counted")
        from range in RangeOf.Named("a range such as 0 to 60")
        from clauses in Clauses
        select (Statement)
            new ResponseLine(ResponseKind.Count, name, start) { Range = range, Clauses = clauses };

    private static readonly TokenListParser<TokenKind, Statement> YesNo =
        from start in First("yes-no")
        from name in Name.Named("a name for the answer")
        from question in Text.Select(t => (TextValue?)t).OptionalOrDefault()
        from clauses in Clauses
        select (Statement)
            new ResponseLine(ResponseKind.YesNo, name, start) { Question = question, Clauses = clauses };

    private static readonly TokenListParser<TokenKind, Statement> Tick = After("tick", NamesOf)
        .Select(TickOf);

    /// <summary>What stands in brackets after a rung: <c>contact face</c>, <c>costs 1</c>, <c>start</c>.</summary>
    private static readonly TokenListParser<TokenKind, object> Mark = Keyword("contact")
        .IgnoreThen(Name)
        .Select(w => (object)w)
        .Or(Keyword("costs").IgnoreThen(Number).Select(n => (object)n))
        .Or(Keyword("start").Select(_ => (object)true));

    private static readonly TokenListParser<TokenKind, HelpRungValue> Rung =
        from words in One(TokenKind.Name)
            .InARow()
            .Select(RungOf)
            .Or(Text.Select(t => new HelpRungValue(t.Text, null, t.Place)))
            .Named("a rung of help such as said again")
        from marks in (
            from open in One(TokenKind.OpenBracket)
            from marks in Mark.ByCommas()
            from close in One(TokenKind.CloseBracket)
            select marks
        ).OptionalOrDefault([])
        select words with
        {
            Contact = marks.OfType<Word>().FirstOrDefault(),
            Cost = marks.OfType<NumberValue>().FirstOrDefault(),
            IsStart = marks.OfType<bool>().Any(),
        };

    private static readonly TokenListParser<TokenKind, Statement> Help = After("help", Rung.ByCommas())
        .Select(r => (Statement)new HelpLine(r));

    public static readonly Dictionary<string, TokenListParser<TokenKind, Statement>> ByWord = new(
        StringComparer.Ordinal
    )
    {
        ["contact"] = After("contact", Name.Named("none, face or mouth"))
            .Select(c => (Statement)new ContactLine(c)),
        ["needs"] = After("needs", NamesOf).Select(n => (Statement)new NeedsLine(n)),
        ["say"] = TextAfter("say", TextLineKind.Say),
        ["show"] = TextAfter("show", TextLineKind.Show),
        ["go"] = TextAfter("go", TextLineKind.Go),
        ["practice"] = TextAfter("practice", TextLineKind.Practice),
        ["repeat"] = TextAfter("repeat", TextLineKind.Repeat),
        ["note"] = TextAfter("note", TextLineKind.Note),
        ["stop"] = After("stop", Keyword("when"))
            .IgnoreThen(Text)
            .Select(t => (Statement)new TextLine(TextLineKind.StopWhen, t)),
        ["hold"] =
            from start in First("hold")
            from number in Number
            from unit in Name.Named("a unit such as s")
            select (Statement)new HoldLine(number, unit),
        ["trials"] = Trials,
        ["rate"] = Rate,
        ["count"] = Count,
        ["time"] = Measured("time", ResponseKind.Time),
        ["quantity"] = Measured("quantity", ResponseKind.Quantity),
        ["yes-no"] = YesNo,
        ["choice"] = Optional("choice", ResponseKind.Choice),
        ["direction"] = Optional("direction", ResponseKind.Direction),
        ["tick"] = Tick,
        ["help"] = Help,
        ["senses"] = After("senses", Keyword("touch")).Select(_ => (Statement)new SensesLine()),
        ["skip"] = RoutingLineParsers.Skip,
    };

    public static readonly TokenListParser<TokenKind, OptionLine> Option =
        from name in Name
        from text in Text
        select new OptionLine(name, text);

    private static TokenListParser<TokenKind, Statement> TextAfter(string word, TextLineKind kind) =>
        After(word, Text).Select(t => (Statement)new TextLine(kind, t));

    /// <summary><c>time run in s, step 0.1, 0.5 to 15</c>; <c>from 0.1 to 15</c> and the step last are as good.</summary>
    private static TokenListParser<TokenKind, Statement> Measured(string word, ResponseKind kind) =>
        from start in First(word)
        from name in Name
        from i in Keyword("in")
        from unit in UnitOf
        from step in Comma.IgnoreThen(Keyword("step").Named("its step, as in step 0.1,")).IgnoreThen(Number)
        from comma in Comma
        from range in Keyword("from").Select(_ => true).OptionalOrDefault(false).IgnoreThen(RangeOf)
        from clauses in Clauses
        select (Statement)
            new ResponseLine(kind, name, start)
            {
                Unit = unit,
                Step = step,
                Range = range,
                Clauses = clauses,
            };

    private static TokenListParser<TokenKind, Statement> Optional(string word, ResponseKind kind) =>
        from start in First(word)
        from name in Name.Select(n => (Word?)n).OptionalOrDefault()
        from clauses in Clauses
        select (Statement)new ResponseLine(kind, name, start) { Clauses = clauses };

    /// <summary>Names by commas, of which a last <c>qualitative</c> is not one.</summary>
    private static Statement TickOf(IReadOnlyList<Word> names) =>
        names.Count > 1 && names[^1].Text == "qualitative"
            ? new TickLine([.. names.Take(names.Count - 1)], true)
            : new TickLine(names, false);

    private static HelpRungValue RungOf(IReadOnlyList<Token<TokenKind>> words) =>
        new(
            string.Join(' ', words.Select(w => w.ToStringValue())),
            null,
            words[0].Place().To(words[^1].Place())
        );
}
