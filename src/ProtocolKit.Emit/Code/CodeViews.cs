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
        var fields = program.Fields.Select(f => names.Of(f.Name)).ToList();
        var lines = program.Lines.Select(l => names.Of(l.Name)).ToList();
        var writer = output.Writer(fields, lines);
        var further = new FurtherTrials(program);
        var cautions = CodeHeader.Cautions(protocol).ToList();
        return new CodeView
        {
            TypeName = new Raw(CodeNames.OfType(protocol.Name) + "Scoring"),
            FileName = CodeText.Comment(output.FileName(protocol)),
            TitleComment = CodeText.Comments(protocol.Title),
            IdentityComment = Comments(CodeHeader.Identity(protocol)),
            CautionComment = Comments(cautions),
            Name = CodeText.Quote(protocol.Name),
            Title = CodeText.Quote(protocol.Title),
            Edition = CodeText.Quote(protocol.Edition),
            Form = CodeText.Quote(protocol.Fingerprints.Form),
            Administration = CodeText.Quote(protocol.Fingerprints.Administration),
            Interpretation = CodeText.Quote(protocol.Fingerprints.Interpretation),
            Cautions = Quoted(cautions),
            HasShortForm = protocol.HasShortForm,
            FieldCount = Whole(program.Fields.Count),
            AgeField = Whole(program.AgeField),
            AgeLow = Whole(program.Fields[program.AgeField].Low),
            AgeHigh = Whole(program.Fields[program.AgeField].High),
            FormField = Whole(program.FormField),
            Fields = [.. program.Fields.Select((f, i) => Field(f, fields[i], i))],
            Lines = [.. program.Lines.Select((l, i) => Line(l, lines[i], output, writer))],
            States = [.. Enum.GetValues<State>().Select(s => Word(s.ToWords(), (long)s))],
            Codes = [.. States.Untried.Select(u => Word(u.Code, (long)u.State))],
            Answers = [.. program.Answers.Select(a => Answer(a, program, further, output))],
            Observations = [.. program.Observations.Select(o => Word(o.Key, o.Field))],
            Kept = [.. program.Kept.Select(k => Word(k.Key, k.StateLine))],
            Outcomes = [.. program.Outcomes.Select(o => Outcome(o, program, output))],
            Bands = [.. program.Bands.Select(Band)],
            Actions = [.. program.Actions.Select(Action)],
            HeadlineLine = Whole(program.HeadlineLine),
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
        return new LineView(new Raw(name), new Raw(text), isCondition, comment);
    }

    private static Raw WithNote(string limits, string note) =>
        CodeText.Comment(string.IsNullOrWhiteSpace(note) ? limits : $"{limits}: {note}");

    private static AnswerView Answer(
        AnswerSlot answer,
        ScoringProgram program,
        FurtherTrials further,
        CodeOutput output
    )
    {
        var response = answer.Response;
        var (after, below) = further.Of(answer);
        var levels = response.Scale?.Levels.Select(l => l.Points).Order() ?? Enumerable.Empty<Rational>();
        return new AnswerView(
            CodeText.Quote(answer.Key),
            Whole(answer.ValueField),
            Whole(answer.StateField),
            Whole(program.Fields[answer.ValueField].Low),
            Truth(answer.Task.ShortForm),
            Whole(after),
            Whole(below),
            output.Number(response.Low),
            output.Number(response.High),
            Whole(response.Step.Numerator),
            Whole(response.Step.Denominator),
            [.. levels.Select(output.Number)],
            response.HasOptions ? Quoted(response.Options.Select(o => o.Name)) : []
        );
    }

    private static OutcomeView Outcome(OutcomeLines lines, ScoringProgram program, CodeOutput output) =>
        new(
            CodeText.Quote(lines.Outcome.Name),
            Whole(lines.StateLine),
            Whole(lines.LowLine),
            Whole(lines.HighLine),
            Whole(lines.LowDenominatorLine),
            Whole(lines.HighDenominatorLine),
            Whole(lines.Scale.Numerator),
            Whole(lines.Scale.Denominator),
            CodeText.Quote(lines.Outcome.Unit.Symbol),
            lines.Outcome.Step is { } step ? output.Number(step) : new Raw("null"),
            Quoted(ProgramReads.Of(program, lines).Select(k => k.Key))
        );

    private static BandView Band(BandLine band) =>
        new(
            CodeText.Quote(band.Table.Outcome.Name),
            Truth(band.Table.ShortForm),
            Whole(band.Line),
            Quoted(band.Table.Bands.Select(b => b.Name))
        );

    private static ActionView Action(ActionLines lines) =>
        new(CodeText.Quote(lines.Action.Name), Whole(lines.AppliesLine), Whole(lines.AppliesNotLine));

    private static CodeWord Word(string text, long number) => new(CodeText.Quote(text), Whole(number));

    private static IReadOnlyList<Raw> Quoted(IEnumerable<string> texts) => [.. texts.Select(CodeText.Quote)];

    private static IReadOnlyList<Raw> Comments(IEnumerable<string> texts) =>
        [.. texts.SelectMany(CodeText.Comments)];

    private static Raw Whole(BigInteger value) => new(value.ToString(CultureInfo.InvariantCulture));

    private static Raw Truth(bool value) => new(value ? "true" : "false");

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
