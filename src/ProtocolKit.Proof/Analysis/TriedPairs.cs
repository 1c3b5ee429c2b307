using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Plain pairs of sheets, tried before anything is worked out: of each measure or score the answers it rests on are made worse one after
/// another, and of the whole sheet likewise. Any two sheets of such a row are a worse and a better one; a refused answer makes a pair
/// of any. One that shows what is asked is an example; where none does, nothing is said.
/// </summary>
internal sealed class TriedPairs
{
    private const int MostSheets = 40;

    private readonly ScoringProgram _program;
    private readonly PairSpace _space;
    private readonly Age _age;
    private readonly int[] _watched;
    private readonly Lazy<TriedSheet> _sheet;
    private readonly List<(List<int> Answers, Lazy<List<Tried>> Sheets)> _rows;

    /// <summary>A sheet, with the lines that are watched.</summary>
    private readonly record struct Tried(long[] Fields, long[] Watched, int Worst);

    public TriedPairs(Questions questions, Part part, PairSpace space)
    {
        (_program, _space, _age) = (questions.Program, space, part.Ages.From);
        _watched =
        [
            .. _program.Bands.Select(b => b.Line),
            .. _program.Actions.SelectMany(a => new[] { a.AppliesLine, a.AppliesNotLine }),
            .. _program.Actions.Count > 0 ? new[] { _program.HeadlineLine } : [],
        ];
        _sheet = new(() => new TriedSheet(_program, space.First, _age));
        _rows =
        [
            .. Rows()
                .SelectMany(r => new[] { (r, true), (r, false), (Spread(r), false) })
                .Select(r => (r.Item1, new Lazy<List<Tried>>(() => Sheets(r.Item1, r.Item2)))),
        ];
    }

    /// <summary>The same answers in an order in which neighbours come far from one another.</summary>
    private static List<int> Spread(List<int> answers)
    {
        var stride = Math.Max(1, (int)(answers.Count * 0.618));
        while (stride > 1 && BigInteger.GreatestCommonDivisor(stride, answers.Count) > 1)
        {
            stride--;
        }

        return [.. answers.Select((_, i) => answers[(int)((long)i * stride % answers.Count)])];
    }

    /// <param name="lines">Lines of bands or actions.</param>
    /// <param name="of">Whose answers are made worse; null: everybody's in turn.</param>
    public PairFound? Show(PairKind kind, int[] lines, Asked asked, OutcomeLines? of = null)
    {
        var places = Array.ConvertAll(lines, l => Array.IndexOf(_watched, l));
        var rows = of is null ? _rows : RowsOf(of);
        foreach (var (answers, sheets) in rows)
        {
            var pairs = kind == PairKind.Better ? Better(sheets.Value) : Refused(sheets.Value, answers);
            foreach (var (first, second) in pairs)
            {
                if (
                    asked.HoldsOfBoth(
                        places.Length,
                        i => first.Watched[places[i]],
                        i => second.Watched[places[i]]
                    ) && _space.Holds(first.Fields, second.Fields)
                )
                {
                    return Found(first.Fields, second.Fields);
                }
            }
        }

        return null;
    }

    /// <summary>
    /// A pair that differs as a known one does: its own answers stay, and all others get worse on both sheets alike, one after another.
    /// </summary>
    public PairFound? ShowBeside(PairFound known, int[] lines, Asked asked)
    {
        if (!_space.Holds(known.First, known.Second))
        {
            return null;
        }

        var own = OwnOf(known);
        var rest = Ordered(Enumerable.Range(0, _space.PartCount).Except(own));
        var leaves = own.Select(p => _space.First.Leaves[p]).ToList();
        var first = new TriedSheet(_program, _space.First, _age, (leaves, known.First));
        var second = new TriedSheet(_program, _space.Second, _age, (leaves, known.Second));
        foreach (
            var (answers, isWorst) in new[]
            {
                (Even(rest), false),
                (Spread(rest), false),
                (rest, false),
                (rest, true),
            }
        )
        {
            first.Clear();
            second.Clear();
            foreach (var leaf in answers.Select(a => _space.First.Leaves[a]))
            {
                Worsen(first, leaf, isWorst);
                second.Answer(leaf, first.Answered(leaf));
                if (
                    asked.HoldsOfBoth(lines.Length, i => first.Line(lines[i]), i => second.Line(lines[i]))
                    && _space.Holds(first.Fields, second.Fields)
                )
                {
                    return Found([.. first.Fields], [.. second.Fields]);
                }
            }
        }

        return null;
    }

    /// <summary>In turn one of each measure or score that is read from answers, those of each far from one another.</summary>
    private List<int> Even(List<int> answers)
    {
        var outcomes = _program.Outcomes.Select(AnswersOf).OrderBy(o => o.Count).ToList();
        return
        [
            .. answers
                .GroupBy(a => outcomes.FindIndex(o => o.Contains(a)))
                .SelectMany(g => Spread([.. g]).Index())
                .OrderBy(a => a.Index)
                .Select(a => a.Item),
        ];
    }

    /// <summary>All parts of the tasks that belong to what the sheets of a pair differ in: those of the smallest value that rests on all of it.</summary>
    private List<int> OwnOf(PairFound known)
    {
        var changed = Ordered(
            Enumerable.Range(0, _space.PartCount).Where(p => Differs(_space.First.Leaves[p], known))
        );
        var answers = _program
            .Outcomes.Select(AnswersOf)
            .Where(a => !changed.Except(a).Any())
            .MinBy(a => a.Count);
        var tasks = (answers ?? changed).Select(p => _space.First.Leaves[p].Task).ToHashSet();
        return
        [
            .. Enumerable.Range(0, _space.PartCount).Where(p => tasks.Contains(_space.First.Leaves[p].Task)),
        ];
    }

    private static bool Differs(Leaf leaf, PairFound known) =>
        known.First[leaf.ValueField] != known.Second[leaf.ValueField]
        || (leaf.StateField >= 0 && known.First[leaf.StateField] != known.Second[leaf.StateField]);

    private static void Worsen(TriedSheet sheet, Leaf leaf, bool isWorst)
    {
        if (isWorst)
        {
            sheet.Answer(leaf, TriedSheet.Worst(leaf));
        }
        else
        {
            sheet.AnswerWorst(leaf);
        }
    }

    private PairFound Found(long[] first, long[] second) =>
        new(first, second, Evaluator.Run(_program, first), Evaluator.Run(_program, second))
        {
            IsSmallest = false,
        };

    private static IEnumerable<(Tried First, Tried Second)> Better(List<Tried> row)
    {
        for (var worse = 1; worse < row.Count; worse++)
        {
            for (var better = 0; better < worse; better++)
            {
                yield return (row[worse], row[better]);
            }
        }
    }

    /// <summary>Of each sheet of a row the last answer that was made worse is refused, and the one after it.</summary>
    private IEnumerable<(Tried First, Tried Second)> Refused(List<Tried> row, List<int> answers)
    {
        foreach (var sheet in row)
        {
            foreach (var at in new[] { sheet.Worst - 1, sheet.Worst }.Where(a => a >= 0 && a < answers.Count))
            {
                var leaf = _space.Second.Leaves[answers[at]];
                if (leaf.StateField >= 0 && sheet.Fields[leaf.StateField] == 0)
                {
                    _sheet.Value.Refuse(sheet.Fields, leaf, _space.Second);
                    yield return (sheet, Seen(sheet.Worst));
                }
            }
        }
    }

    /// <summary>Answers that are made worse together, in giving order.</summary>
    private IEnumerable<List<int>> Rows() =>
        _program
            .Outcomes.Select(AnswersOf)
            .Append(Ordered(Enumerable.Range(0, _space.PartCount)))
            .Where(s => s.Count > 0)
            .DistinctBy(s => string.Join(' ', s));

    private IEnumerable<(List<int> Answers, Lazy<List<Tried>> Sheets)> RowsOf(OutcomeLines outcome)
    {
        var answers = AnswersOf(outcome).ToHashSet();
        return _rows.Where(r => answers.SetEquals(r.Answers));
    }

    private List<int> AnswersOf(OutcomeLines outcome) =>
        Ordered(_space.First.SetOf(_space.First.Lines.Line(outcome.LowLine))?.Leaves() ?? []);

    private List<int> Ordered(IEnumerable<int> parts) =>
        [.. parts.Where(p => _space.First.Leaves[p] is { Order: not 0, IsObservation: false })];

    /// <param name="isWorst">Each answer as bad as can be; otherwise as bad as it can be without a task being left out for it.</param>
    private List<Tried> Sheets(List<int> answers, bool isWorst)
    {
        var sheet = _sheet.Value;
        sheet.Clear();
        var step = Math.Max(1, answers.Count / MostSheets);
        var sheets = new List<Tried> { Seen(0) };
        var (before, watched) = (Seen(0), sheets[0].Watched);
        for (var worst = 1; worst <= answers.Count; worst++)
        {
            var leaf = _space.First.Leaves[answers[worst - 1]];
            Worsen(sheet, leaf, isWorst);

            // Where a band changes, both sides of it count.
            var changes = IsOther(watched);
            if (changes && before.Worst > sheets[^1].Worst)
            {
                sheets.Add(before with { Fields = [.. before.Fields] });
            }

            if (changes || worst % step == 0 || worst == answers.Count)
            {
                sheets.Add(Seen(worst));
                watched = sheets[^1].Watched;
            }

            sheet.Fields.CopyTo(before.Fields, 0);
            before = before with { Watched = watched, Worst = worst };
        }

        return sheets;
    }

    private bool IsOther(long[] watched)
    {
        for (var i = 0; i < watched.Length; i++)
        {
            if (watched[i] != _sheet.Value.Line(_watched[i]))
            {
                return true;
            }
        }

        return false;
    }

    private Tried Seen(int worst) =>
        new([.. _sheet.Value.Fields], Array.ConvertAll(_watched, _sheet.Value.Line), worst);
}
