using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>What a new examiner has to show: every answer and value it names is there.</summary>
internal sealed class ReadinessBinder(
    Declarations declared,
    ScoringProgram program,
    IReadOnlyList<BoundTask> tasks,
    DiagnosticBag diagnostics
)
{
    private const int Most = 10_000;

    public Readiness? Bind()
    {
        foreach (var second in declared.Readiness.Skip(1))
        {
            diagnostics.Clash(second.At, declared.Readiness[0].At, MeaningMessages.LineTwice("readiness"));
        }

        return declared.Readiness.Count == 0 ? null : Bind(declared.Readiness[0]);
    }

    private Readiness? Bind(ReadinessBlock block)
    {
        var counts = Single<ReadinessRecordsLine>(block, "records");
        var again = Single<ReadinessAgainLine>(block, "again");
        var checks = block.Lines.OfType<ReadinessCheckLine>().ToList();
        if ((counts is null || checks.Count == 0) && !block.Incomplete)
        {
            Report(
                block,
                block.Place,
                MeaningMessages.Missing(
                    counts is null
                        ? "Readiness doesn't say how many records both examiners rate."
                        : "Readiness doesn't say how often the two examiners must agree.",
                    counts is null
                        ? "Write under it, for example: records 10"
                        : "Write under it, for example: same headline in 90 percent"
                )
            );
        }

        var records = counts is null ? null : Whole(counts, counts.Count, Most);
        var months = again is null ? null : Whole(again, again.Months, Most);
        return new Readiness(
            block.Text.Text,
            records ?? 1,
            [.. checks.Select(Check).OfType<ReadinessCheck>()],
            months,
            block.Source.OriginOf(block.Place)
        );
    }

    private T? Single<T>(ReadinessBlock block, string word)
        where T : Statement
    {
        var lines = block.Lines.OfType<T>().ToList();
        if (lines.Count > 1)
        {
            diagnostics.Clash(lines[1].At, lines[0].At, MeaningMessages.LineTwice(word));
        }

        return lines.FirstOrDefault();
    }

    private ReadinessCheck? Check(ReadinessCheckLine line)
    {
        var percent = Whole(line, line.Percent, 100);
        if (line.Of is { } name && !Names(line, name))
        {
            return null;
        }

        var within = line.Within?.Number ?? Rational.Zero;
        if (within.Sign < 0)
        {
            Report(
                line,
                line.Within!.Place,
                NumberMessages.Number("How far apart values may lie is zero or more.", "Write within 1 of …")
            );
        }

        return percent is { } p ? new ReadinessCheck(line.Kind, line.Of?.Text ?? "", within, p) : null;
    }

    private bool Names(ReadinessCheckLine line, Word name) =>
        line.Kind switch
        {
            ReadinessKind.SameAnswer => IsAnswer(line, name),
            ReadinessKind.SameBand => IsOutcome(line, name)
                && (
                    program.Bands.Any(b => b.Table.Outcome.Name == name.Text)
                    || declared.CutOffs.Exists(c => c.Outcome.Text == name.Text)
                    || Refuse(
                        line,
                        name,
                        NameMessages.NotHere(
                            name.Text,
                            "without cut-offs",
                            "a measure or score that has bands"
                        )
                    )
                ),
            _ => IsOutcome(line, name),
        };

    private bool IsAnswer(ReadinessCheckLine line, Word name)
    {
        var known = tasks.SelectMany(t => t.Task.Responses).Select(r => r.Name).Distinct().ToList();
        return known.Contains(name.Text)
            || Refuse(
                line,
                name,
                NameMessages.Unknown("answer", name.Text, diagnostics.Nearest(name.Text, known))
            );
    }

    private bool IsOutcome(ReadinessCheckLine line, Word name) =>
        declared.Values.Require(name, line.Source) switch
        {
            null => false,
            OutcomeBlock => true,
            _ => Refuse(line, name, NameMessages.NotHere(name.Text, "a task", "a measure or score")),
        };

    private bool Refuse(ReadinessCheckLine line, Word name, Message message)
    {
        Report(line, name.Place, message);
        return false;
    }

    private int? Whole(Statement line, NumberValue value, int most)
    {
        if (value.Number is { IsInteger: true, Sign: > 0 } number && number <= most)
        {
            return (int)number.Numerator;
        }

        Report(
            line,
            value.Place,
            NumberMessages.Number(
                $"This is a whole number from 1 to {most}.",
                $"Write, for example, {Math.Min(most, 90)}."
            )
        );
        return null;
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
