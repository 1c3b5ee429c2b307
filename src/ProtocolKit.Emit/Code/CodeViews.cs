using System.Globalization;
using System.Numerics;
using ProtocolKit.Emit.Templating;
using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>Prepares a protocol for a template of code.</summary>
internal static class CodeViews
{
    public static CodeView Of(Protocol protocol, CodeOutput output)
    {
        var program = protocol.Program;
        var names = output.Names();
        var fields = program
            .Fields.Select((f, i) => output.IsCompact ? Short('f', i) : names.Of(f.Name))
            .ToList();
        var lines = program
            .Lines.Select((l, i) => output.IsCompact ? Short('v', i) : names.Of(l.Name))
            .ToList();
        var writer = output.Writer(fields, lines);
        var further = new FurtherTrials(program);
        var given = new GivenTasks(program);
        var cautions = CodeHeader.Cautions(protocol).ToList();
        return new CodeView
        {
            IsCompact = output.IsCompact,
            TypeName = new Raw(CodeNames.OfType(protocol.Name) + "Scoring"),
            FileName = CodeText.Comment(output.FileName(protocol)),
            TitleComment = CodeText.Comments(protocol.Title),
            IdentityComment = Comments(CodeHeader.Identity(protocol)),
            CautionComment = Comments(cautions),
            Name = output.Quote(protocol.Name),
            Title = output.Quote(protocol.Title),
            Edition = output.Quote(protocol.Edition),
            Form = output.Quote(protocol.Fingerprints.Form),
            Administration = output.Quote(protocol.Fingerprints.Administration),
            Interpretation = output.Quote(protocol.Fingerprints.Interpretation),
            Cautions = Quoted(cautions, output),
            HasShortForm = protocol.HasShortForm,
            FieldCount = Whole(program.Fields.Count),
            AgeField = Whole(program.AgeField),
            AgeLow = Whole(program.Fields[program.AgeField].Low),
            AgeHigh = Whole(program.Fields[program.AgeField].High),
            FormField = Whole(program.FormField),
            Fields = [.. program.Fields.Select((f, i) => Field(f, fields[i], i))],
            Lines = [.. program.Lines.Select((l, i) => Line(l, lines[i], output, writer))],
            States = [.. Enum.GetValues<State>().Select(s => Word(output, s.ToWords(), (long)s))],
            Codes = [.. States.Untried.Select(u => Word(output, u.Code, (long)u.State))],
            Answers = [.. program.Answers.Select(a => Answer(a, program, further, given, output))],
            Observations = [.. program.Observations.Select(o => Word(output, o.Key, o.Field))],
            History =
            [
                .. program.History.Select(h => new HistoryView(
                    output.Quote(h.Key),
                    Whole(h.Field),
                    output.Truth(h.IsNeeded)
                )
                {
                    Wrong = output.Quote(ResultColumns.WrongHistory(h)),
                }),
            ],
            HasGiving = program.Giving.Count > 0,
            HelpKeys = Quoted(program.Answers.Where(GivenTasks.IsHelpGiven).Select(a => a.Key), output),
            NoHelp = output.Quote(HelpLadder.None),
            Kept = [.. program.Kept.Select(k => Word(output, k.Key, k.StateLine))],
            Outcomes = [.. program.Outcomes.Select(o => Outcome(o, program, output))],
            Bands = [.. program.Bands.Select(b => Band(b, output))],
            Actions = [.. program.Actions.Select(a => Action(a, output))],
            HeadlineLine = Whole(program.HeadlineLine),
            HasHeadline = program.HeadlineLine >= 0,
        };
    }

    private static FieldView Field(ProgramField field, string name, int index)
    {
        var bounds = Invariant($"{field.Low}..{field.High}");
        return new FieldView(new Raw(name), Whole(index), WithNote(bounds, field.Note));
    }

    private static LineView Line(ProgramLine line, string name, CodeOutput output, ExpressionWriter writer)
    {
        var isCondition = line.Value is null;
        var code = isCondition ? writer.Write(line.Condition!) : writer.Write(line.Value!);
        var comment = isCondition
            ? CodeText.Comment(string.IsNullOrWhiteSpace(line.Note) ? "true or false" : line.Note)
            : WithNote(Invariant($"{line.Low}..{line.High}"), line.Note);

        // Before the code stand the indent, a short word of declaration, the name and an equals sign.
        var column = output.IndentOfLines + name.Length + 9;
        var text = code.Write(column, output.IndentOfLines);
        if (output.BracketsLongExpressions && text.Contains('\n', StringComparison.Ordinal))
        {
            text = $"({text})";
        }

        return new LineView(new Raw(name), new Raw(text), isCondition, comment);
    }

    private static Raw WithNote(string limits, string note) =>
        CodeText.Comment(string.IsNullOrWhiteSpace(note) ? limits : $"{limits}: {note}");

    private static AnswerView Answer(
        AnswerSlot answer,
        ScoringProgram program,
        FurtherTrials further,
        GivenTasks given,
        CodeOutput output
    )
    {
        var response = answer.Response;
        var (after, below) = further.Of(answer);
        var reading = NumberReading.Of(response);
        var levels = response.Scale?.Levels.Select(l => l.Points).Order() ?? Enumerable.Empty<Rational>();
        return new AnswerView(
            output.Quote(answer.Key),
            Whole(answer.ValueField),
            Whole(answer.StateField),
            Whole(given.LineOf(answer)),
            Whole(program.Fields[answer.ValueField].Low),
            output.Truth(answer.Task.ShortForm),
            Whole(after),
            Whole(below),
            output.Number(response.Low),
            output.Number(response.High),
            Whole(response.Step.Numerator),
            Whole(response.Step.Denominator),
            [.. levels.Select(output.Number)],
            response.HasOptions ? Quoted(response.Options.Select(o => o.Name), output) : []
        )
        {
            Expected = output.Quote(NumberReading.Expected(response)),
            Pattern = output.Quote(reading.Pattern),
            Decimals = Whole(reading.Decimals),
            ShiftedFrom = Whole(reading.Low),
            ShiftedTo = Whole(reading.High),
            ShiftedStep = Whole(reading.Step),
            ShiftedLevels = [.. reading.Levels.Select(l => Whole(l))],
        };
    }

    private static OutcomeView Outcome(OutcomeLines lines, ScoringProgram program, CodeOutput output) =>
        new(
            output.Quote(lines.Outcome.Name),
            Whole(lines.StateLine),
            Whole(lines.LowLine),
            Whole(lines.HighLine),
            Whole(lines.LowDenominatorLine),
            Whole(lines.HighDenominatorLine),
            Whole(lines.Scale.Numerator),
            Whole(lines.Scale.Denominator),
            output.Quote(lines.Outcome.Unit.Symbol),
            lines.Outcome.Step is { } step ? output.Number(step) : output.Nothing,
            Quoted(ProgramReads.Of(program, lines).Select(k => k.Key), output),
            output.Truth(ResultColumns.IsFraction(lines))
        );

    private static BandView Band(BandLine band, CodeOutput output) =>
        new(
            output.Quote(band.Table.Outcome.Name),
            output.Truth(band.Table.ShortForm),
            Whole(band.Line),
            Quoted(band.Table.Bands.Select(b => b.Name), output)
        );

    private static ActionView Action(ActionLines lines, CodeOutput output) =>
        new(output.Quote(lines.Action.Name), Whole(lines.AppliesLine), Whole(lines.AppliesNotLine));

    private static CodeWord Word(CodeOutput output, string text, long number) =>
        new(output.Quote(text), Whole(number));

    private static IReadOnlyList<Raw> Quoted(IEnumerable<string> texts, CodeOutput output) =>
        [.. texts.Select(output.Quote)];

    private static IReadOnlyList<Raw> Comments(IEnumerable<string> texts) =>
        [.. texts.SelectMany(CodeText.Comments)];

    private static Raw Whole(BigInteger value) => new(value.ToString(CultureInfo.InvariantCulture));

    private static string Short(char letter, int index) => Invariant($"{letter}{index}");

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
