using System.Globalization;
using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Worksheets;

/// <summary>A worked sheet: the age, what counts of each task, a rate where there is one, the total and its band.</summary>
internal sealed class SlipSheet
{
    private readonly CaseSource _source;
    private readonly ScoredRecord _scored;
    private readonly OutcomeLines _outcome;
    private readonly IReadOnlyList<RatedTask> _rated;
    private readonly CutOffTable _table;
    private readonly List<(string What, string Happened, string Written)> _lines = [];
    private readonly List<string> _key = [];
    private readonly (DateOnly Born, DateOnly Seen) _days;

    public SlipSheet(CaseSource source, ScoredRecord scored, OutcomeLines outcome, int number)
    {
        (_source, _scored, _outcome) = (source, scored, outcome);
        _rated = source.Rated(scored, outcome);
        _table = source.TableOf(outcome);
        var month = new AgeRange(scored.Age, scored.Age);
        _days = InventedDays.Exactly(month.From, source.Generator, isEve: number % 2 == 1);
        _lines.Add(
            (
                "Age",
                $"born {InventedDays.Text(_days.Born)}, seen {InventedDays.Text(_days.Seen)}",
                scored.Age.ToString()
            )
        );
        _lines.AddRange(_rated.Select(t => (t.Title, t.TrialsInWords, t.Counts.ToString())));
        Finish(_rated.Select(t => t.Counts));
    }

    public PracticeCase Case(int number) =>
        new(
            number,
            "One line of this worked sheet is wrong; what follows from it was worked out rightly. Find the line, say what it should be, and name the rule.",
            [],
            ["Line", "What happened", "What was written"],
            [.. _lines.Select(l => new[] { l.What, l.Happened, l.Written })],
            ["The line that is wrong:", "It should be:", "The rule:"],
            _key
        );

    /// <summary>A month that is only begun counted as complete.</summary>
    public static bool Age(SlipSheet sheet)
    {
        var age = sheet._scored.Age;
        var written = new Age(age.Months + 1);
        if (sheet._days.Seen.Day >= sheet._days.Born.Day || !sheet.SameRow(age, written))
        {
            return false;
        }

        sheet.Change(0, written.ToString());
        sheet._key.Add($"The age: {written} is written, it is {age}.");
        sheet._key.AddRange(InventedDays.Key(sheet._days.Born, sheet._days.Seen));
        return true;
    }

    /// <summary>The child's right is at the examiner's left, and was written as the child's left.</summary>
    public static bool Viewpoint(SlipSheet sheet)
    {
        for (var i = 0; i + 1 < sheet._rated.Count; i++)
        {
            var (a, b) = (sheet._rated[i], sheet._rated[i + 1]);
            if (!a.Lines.Task.IsSided || a.Lines.Task != b.Lines.Task || a.Counts == b.Counts)
            {
                continue;
            }

            sheet._lines[i + 1] = (
                a.Title,
                $"at the examiner’s {Opposite(a)} hand: {a.TrialsInWords}",
                b.Counts.ToString()
            );
            sheet._lines[i + 2] = (
                b.Title,
                $"at the examiner’s {Opposite(b)} hand: {b.TrialsInWords}",
                a.Counts.ToString()
            );
            sheet._key.Add(
                $"{a.Lines.Task.Title}: the sides are changed round. Sides are the child’s own, and the child’s right is at the examiner’s left hand: {a.Title} is {a.Counts}, {b.Title} is {b.Counts}."
            );
            sheet._key.Add("The total stays as it is, but a weaker side would be named wrongly.");
            return true;
        }

        return false;
    }

    /// <summary>A refusal written as the lowest level.</summary>
    public static bool RefusedAsZero(SlipSheet sheet)
    {
        var at = sheet.IndexOf(t => t.Counts.Sign == 0);
        if (at < 0)
        {
            return false;
        }

        var task = sheet._rated[at];
        var highest = task.Scale.Levels.Max(l => l.Points);
        var total = sheet.Sum;
        sheet._lines[at + 1] = (task.Title, "shakes the head and keeps the mouth shut; does not try", "0");
        sheet._key.Add(
            $"{task.Title}: 0 is written, it is “refused”. A 0 is an attempt without the movement; here nothing was tried."
        );
        sheet._key.Add(
            sheet._outcome.Outcome.Untried switch
            {
                UntriedPolicy.Bounds =>
                    $"With it untried {sheet._outcome.Outcome.Title} lies between {total} and {total + highest}, and has a band only where both ends share it.",
                UntriedPolicy.Blocks => $"With it untried {sheet._outcome.Outcome.Title} has no value.",
                _ => $"With it untried {sheet._outcome.Outcome.Title} is scaled up from the other tasks.",
            }
        );
        return true;
    }

    /// <summary>What came of a task with help written as its score.</summary>
    public static bool Help(SlipSheet sheet)
    {
        var at = sheet.IndexOf(t =>
            t.Lines.Task.HelpRungs().Count > 0
            && !t.Lines.Task.HelpHasCost()
            && t.Counts < t.Scale.Levels.Max(l => l.Points)
        );
        if (at < 0)
        {
            return false;
        }

        var task = sheet._rated[at];
        var helped = task.Scale.Levels.Select(l => l.Points).Where(p => p > task.Counts).Min();
        var rung = task.Lines.Task.HelpRungs()[0].Text;
        sheet.Rewrite(at, $"{task.TrialsInWords}; then with help ({rung}) rated {helped}", helped);
        sheet._key.Add(
            $"{task.Title}: {helped} is written, it is {task.Counts}. The unaided result scores; what came of help stands beside it."
        );
        return sheet.KeyOfRest(at, helped);
    }

    /// <summary>Another trial than the one that counts.</summary>
    public static bool TrialKept(SlipSheet sheet)
    {
        var at = sheet.IndexOf(t => t.Trials.OfType<Rational>().Distinct().Count() > 1);
        if (at < 0)
        {
            return false;
        }

        var task = sheet._rated[at];
        var other = task.Trials.OfType<Rational>().First(p => p != task.Counts);
        sheet.Rewrite(at, task.TrialsInWords, other);
        sheet._key.Add($"{task.Title}: {other} is written. {SimpleCases.Kept(task)}");
        return sheet.KeyOfRest(at, other);
    }

    /// <summary>A rate from one event too many or too few.</summary>
    public static bool Intervals(SlipSheet sheet) =>
        sheet.AddRate(
            (rate, _) => rate.Of(rate.Response.Spans == Spans.Onsets ? rate.Counted : rate.Counted - 1)
        )
            is { } done
        && sheet.Tell(
            done,
            done.Response.Spans == Spans.Onsets
                ? $"the count spans onsets, so {done.Counted} onsets are {done.Counted - 1} intervals"
                : $"the count is of intervals, so all {done.Counted} count and none is taken off"
        );

    /// <summary>A rate cut off instead of rounded.</summary>
    public static bool Rounding(SlipSheet sheet) =>
        sheet.AddRate((rate, right) => right - rate.Step) is { } done
        && done.Exact(done.Events) > done.Of(done.Events) - done.Step
        && done.Exact(done.Events) < done.Of(done.Events)
        && sheet.Tell(done, "it is rounded once, to the nearest step and a half upwards, never cut off");

    /// <summary>A total at the very limit put into the next band.</summary>
    public static bool BandEdge(SlipSheet sheet)
    {
        var (row, band) = CaseSource.BandOf(sheet._table, sheet._scored.Age, sheet.Sum);
        var other = row
            .Cells.Select((c, i) => (Cell: c, Band: sheet._table.Bands[i]))
            .Where(c => c.Cell is not null && c.Band != band)
            .Select(c =>
                (c.Band, Off: c.Cell!.From > sheet.Sum ? c.Cell.From - sheet.Sum : sheet.Sum - c.Cell.To)
            )
            .OrderBy(c => c.Off)
            .Select(c => c.Band)
            .FirstOrDefault();
        if (band is null || other is null)
        {
            return false;
        }

        sheet.Change(sheet._lines.Count - 1, other.Text);
        sheet._key.Add(
            $"The band: {other.Text} is written, it is {band.Text}. Both ends of a band belong to it, and {sheet.Sum} is an end."
        );
        sheet._key.Add($"The row for {sheet._scored.Age} is {CaseSource.RowInWords(sheet._table, row)}.");
        return true;
    }

    private Rational Sum => _rated.Aggregate(Rational.Zero, (sum, t) => sum + t.Counts);

    private static string Opposite(RatedTask task) => task.Lines.Variant.Name == "right" ? "left" : "right";

    private int IndexOf(Func<RatedTask, bool> test)
    {
        var fitting = Enumerable.Range(0, _rated.Count).Where(i => test(_rated[i])).ToList();
        return fitting.Count == 0 ? -1 : _source.Generator.OneOf(fitting);
    }

    private bool SameRow(Age one, Age other) =>
        _table.Rows.Any(r => r.Ages.Contains(one) && r.Ages.Contains(other));

    private void Change(int line, string written) => _lines[line] = _lines[line] with { Written = written };

    private void Finish(IEnumerable<Rational> counts)
    {
        var points = counts.ToList();
        var total = points.Aggregate(Rational.Zero, (a, b) => a + b);
        var (row, band) = CaseSource.BandOf(_table, _scored.Age, total);
        _lines.Add((_outcome.Outcome.Title, string.Join(" + ", points), total.ToString()));
        _lines.Add(("Band", CaseSource.RowInWords(_table, row), band?.Text ?? "in no band"));
    }

    /// <summary>A task's line with other points, and total and band as they follow from them.</summary>
    private void Rewrite(int at, string happened, Rational written)
    {
        _lines[at + 1] = (_rated[at].Title, happened, written.ToString());
        _lines.RemoveRange(_lines.Count - 2, 2);
        Finish(_rated.Select((t, i) => i == at ? written : t.Counts));
    }

    private bool KeyOfRest(int at, Rational written)
    {
        var (_, band) = CaseSource.BandOf(_table, _scored.Age, Sum);
        _key.Add(
            $"So {_outcome.Outcome.Title} is {Sum - _rated[at].Counts + written} less {written} and plus {_rated[at].Counts}: {Sum}, {band?.Text ?? "in no band"}."
        );
        return true;
    }

    private bool Tell(InventedRate rate, string why)
    {
        _key.Add(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{rate.Title}: {rate.Written} is written, it is {rate.Events} / {rate.Seconds} = {rate.Of(rate.Events)}; {why}."
            )
        );
        return true;
    }

    /// <summary>A line with a rate that is written wrongly; null where the protocol has no such rate.</summary>
    private InventedRate? AddRate(Func<InventedRate, Rational, Rational> wrong)
    {
        if (InventedRate.Of(_source) is not { } rate)
        {
            return null;
        }

        var right = rate.Of(rate.Events);
        rate = rate with { Written = wrong(rate, right) };
        if (rate.Written == right || rate.Written.Sign < 0)
        {
            return null;
        }

        _lines.Insert(1, (rate.Title, rate.InWords, rate.Written.ToString()));
        return rate;
    }
}
