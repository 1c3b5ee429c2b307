using ProtocolKit.Model;

namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>
/// The rules of the example (library/quillmere) as someone would write them by hand from the protocol's text: a loop for each
/// part of the sheet over columns of answers, a few thousand rows at a time so that they stay close to the processor. Wanted is all
/// that a row of results is written from: states and both ends of values, bands, what is known of each action, the headline.
/// What stands behind a value that does not apply is left open.
/// </summary>
internal sealed class ExampleLoop
{
    private const int Block = 1024;

    private readonly ExampleRows _rows;
    private readonly ExampleMovements _movements;
    private readonly ExampleTasks _tasks;
    private readonly ExampleTimes _times;
    private readonly ExampleRuns _runs;
    private readonly ExampleSigns _signs;
    private readonly ExampleActions _actions;
    private readonly int _count;

    /// <param name="wanted">The lines of the program that <paramref name="results"/> has columns for.</param>
    public ExampleLoop(
        ScoringProgram program,
        IReadOnlyList<int> wanted,
        long[][] fields,
        int count,
        long[][] results
    )
    {
        var answers = new ExampleAnswers(program, fields);
        var columns = new ExampleResults(program, wanted, results);
        _count = count;
        _rows = new ExampleRows(answers, count);
        _movements = new ExampleMovements(answers, columns, _rows);
        _tasks = new ExampleTasks(answers, columns, _rows);
        _times = new ExampleTimes(answers, columns, _rows);
        _runs = new ExampleRuns(answers, columns, _rows);
        _signs = new ExampleSigns(answers, columns, _rows);
        _actions = new ExampleActions(columns, _rows);
    }

    public void Run()
    {
        for (var from = 0; from < _count; from += Block)
        {
            var to = Math.Min(from + Block, _count);
            _rows.Start(from, to);
            _movements.Run(from, to);
            _tasks.Run(from, to);
            _times.Run(from, to);
            _runs.Run(from, to);
            _signs.Run(from, to);
            _actions.Run(from, to);
        }
    }
}

/// <summary>What to do, from how many bands came out how.</summary>
internal sealed class ExampleActions(ExampleResults results, ExampleRows rows)
{
    private readonly (long[] Applies, long[] AppliesNot) _joint = results.Action("joint-assessment");
    private readonly (long[] Applies, long[] AppliesNot) _full = results.Action("full-assessment");
    private readonly (long[] Applies, long[] AppliesNot) _complete = results.Action("complete");
    private readonly (long[] Applies, long[] AppliesNot) _again = results.Action("screen-again");
    private readonly (long[] Applies, long[] AppliesNot) _none = results.Action("no-action");
    private readonly long[] _headlines = results.Headlines;
    private readonly long[] _medical = results.Bands("medical-signs", shortForm: false)!;
    private readonly long[] _medicalShort = results.Bands("medical-signs", shortForm: true)!;

    public void Run(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            var (tally, totals) = (rows.Tally[row], rows.Totals[row]);
            var (further, again, undecided) = (tally & 255, tally >> 8 & 255, tally >> 24 & 255);
            var medical = Math.Min(_medical[row], _medicalShort[row]);
            var isJoint = medical == 0;
            var isFull = (totals & 255) != 0 || further > 1;
            var isFullOpen = (totals >> 24 & 255) != 0 || further + undecided > 1;
            var isComplete = undecided > 0;
            var isAgain = further > 0 || again > 2;
            var isAgainOpen = isComplete || again > 2;
            var isNone = !isJoint && !isFull && !isComplete && !isAgain;
            Put(_joint, row, isJoint, !isJoint && medical != ExampleBands.Undecided);
            Put(_full, row, isFull, !isFull && !isFullOpen);
            Put(_complete, row, isComplete, !isComplete);
            Put(_again, row, isAgain, !isAgain && !isAgainOpen);
            Put(_none, row, isNone, !isNone);
            _headlines[row] =
                isJoint ? 0
                : isFull ? 1
                : isComplete ? 2
                : isAgain ? 3
                : 4;
        }
    }

    private static void Put((long[] Applies, long[] AppliesNot) action, int row, bool applies, bool not)
    {
        action.Applies[row] = applies ? 1 : 0;
        action.AppliesNot[row] = not ? 1 : 0;
    }
}
