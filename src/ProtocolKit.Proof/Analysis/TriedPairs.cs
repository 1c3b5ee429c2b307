using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Plain pairs of sheets, for questions that are too large to be worked out: of each measure or score the answers it rests on are made
/// worst one after another, and of the whole sheet likewise. Any two sheets of such a row are a worse and a better one; a refused answer
/// makes a pair of any. One that shows what is asked is an example; where none does, nothing is said.
/// </summary>
internal sealed class TriedPairs(Questions questions, Part part, PairSpace space)
{
    private const int MostSheets = 40;

    private readonly Lazy<List<List<(long[] Fields, long[] Lines)>>> _rows = new(() =>
        [.. Rows(questions, space).Select(r => Sheets(questions, part, space, r).ToList())]
    );

    /// <param name="shows">Of every line of the program on the first sheet, then on the second.</param>
    public PairFound? Show(PairKind kind, Func<long[], long[], bool> shows)
    {
        foreach (var row in _rows.Value)
        {
            var found = (kind == PairKind.Better ? Better(row) : Refused(row)).FirstOrDefault(p =>
                shows(p.FirstLines, p.SecondLines) && space.Holds(p.First, p.Second)
            );
            if (found is not null)
            {
                return found with { IsSmallest = false };
            }
        }

        return null;
    }

    private static IEnumerable<PairFound> Better(List<(long[] Fields, long[] Lines)> row)
    {
        for (var worse = 1; worse < row.Count; worse++)
        {
            for (var better = 0; better < worse; better++)
            {
                yield return new PairFound(
                    row[worse].Fields,
                    row[better].Fields,
                    row[worse].Lines,
                    row[better].Lines
                );
            }
        }
    }

    /// <summary>Of the flawless sheet, the middle one and the worst one of a row, each answer refused.</summary>
    private IEnumerable<PairFound> Refused(List<(long[] Fields, long[] Lines)> row)
    {
        foreach (var (fields, lines) in new[] { row[0], row[row.Count / 2], row[^1] })
        {
            foreach (
                var leaf in space.Second.Leaves.Where(l => l.StateField >= 0 && l.StateField < fields.Length)
            )
            {
                if (fields[leaf.StateField] == 0)
                {
                    var second = (long[])fields.Clone();
                    second[leaf.StateField] = (long)Model.State.Refused;
                    second[leaf.ValueField] = leaf.Low;
                    space.Second.Settle(second, f => f != leaf.ValueField && f != questions.Program.AgeField);
                    yield return new PairFound(fields, second, lines, After(fields, lines, second));
                }
            }
        }
    }

    /// <summary>The lines of a sheet that differs from one with known lines in a few fields.</summary>
    private long[] After(long[] fields, long[] lines, long[] second)
    {
        var running = new RunningLines(questions.Program, (long[])fields.Clone(), lines);
        for (var i = 0; i < fields.Length; i++)
        {
            running.Set(i, second[i]);
        }

        return running.All();
    }

    /// <summary>Answers that are made worst together, in giving order.</summary>
    private static IEnumerable<List<int>> Rows(Questions questions, PairSpace space)
    {
        var sets = questions
            .Program.Outcomes.Select(o => space.First.SetOf(space.First.Lines.Line(o.LowLine)))
            .OfType<LeafSet>()
            .Select(s => s.Leaves().ToList())
            .Append([.. Enumerable.Range(0, space.PartCount)]);
        return sets.Select(s =>
                s.Where(p => space.First.Leaves[p] is { Order: not 0, IsObservation: false }).ToList()
            )
            .Where(s => s.Count > 0)
            .DistinctBy(s => string.Join(' ', s));
    }

    private static IEnumerable<(long[] Fields, long[] Lines)> Sheets(
        Questions questions,
        Part part,
        PairSpace space,
        List<int> answers
    )
    {
        var step = Math.Max(1, answers.Count / MostSheets);
        for (var worst = 0; worst < answers.Count + step; worst += step)
        {
            var fields = (long[])space.First.Baseline.Clone();
            fields[questions.Program.AgeField] = part.Ages.From.Months;
            foreach (var leaf in space.First.Leaves.Where(l => l.IsFurther))
            {
                // There if it is due; settled to blank where it is needless.
                fields[leaf.ValueField] = leaf.Order > 0 ? leaf.High : leaf.Low;
                fields[leaf.StateField] = 0;
            }

            foreach (var leaf in answers.Take(worst).Select(a => space.First.Leaves[a]))
            {
                fields[leaf.ValueField] = leaf.Order > 0 ? leaf.Low : leaf.High;
            }

            space.First.Settle(fields, f => f != questions.Program.AgeField);
            yield return (fields, Evaluator.Run(questions.Program, fields));
        }
    }
}
