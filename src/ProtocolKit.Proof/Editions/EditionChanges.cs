using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Editions;

/// <summary>Records that come to something else in a later edition.</summary>
/// <param name="What">The title of the measure or score; null for the headline.</param>
/// <param name="Old">The band or headline in the earlier edition, in words.</param>
/// <param name="IsSofter">A headline that was more severe before: nobody is recalled for it, and it may need a second look.</param>
/// <param name="IsRecall">A headline that is more severe now: records of it have to be looked at again.</param>
/// <param name="Records">So many different records of a child of one of these ages change so.</param>
/// <param name="All">Of so many.</param>
/// <param name="Example">The record closest to the flawless sheet that changes so.</param>
public sealed record EditionChange(
    string? What,
    AgeRange Ages,
    bool ShortForm,
    string Old,
    string New,
    bool IsSofter,
    bool IsRecall,
    BigInteger Records,
    BigInteger All,
    ProofSitting Example
);

/// <summary>What an edit changes over all complete records a child can come to, counted exactly.</summary>
public sealed class EditionChanges
{
    private readonly JointProgram _joint;
    private readonly Protocol _old;
    private readonly Protocol _new;
    private readonly Questions _questions;
    private readonly List<EditionChange> _changes = [];
    private readonly List<string> _open = [];

    private EditionChanges(Protocol old, Protocol @new, JointProgram joint)
    {
        (_old, _new, _joint) = (old, @new, joint);
        _questions = new Questions(joint.Protocol, Reach.Limit);
        foreach (var part in Parts())
        {
            foreach (var table in @new.Program.Bands)
            {
                Bands(part, table);
            }

            if (old.Actions.Count > 0 && @new.Actions.Count > 0)
            {
                Try(
                    part,
                    null,
                    old.Program.HeadlineLine,
                    @new.Program.HeadlineLine,
                    OldAction,
                    NewAction,
                    SameActions()
                );
            }
        }
    }

    /// <summary>By ages and form; tables in the order of the later edition, then the headline.</summary>
    public IReadOnlyList<EditionChange> Changes => _changes;

    /// <summary>What was too large to work out, in sentences.</summary>
    public IReadOnlyList<string> NotWorkedOut => _open;

    /// <summary>
    /// Null where the two editions don't read the same records, so that none can be laid side by side: other answers, bounds or
    /// order.
    /// </summary>
    public static EditionChanges? Of(Protocol old, Protocol @new)
    {
        ArgumentNullException.ThrowIfNull(old);
        ArgumentNullException.ThrowIfNull(@new);
        return JointProgram.Of(old, @new) is { } joint ? new EditionChanges(old, @new, joint) : null;
    }

    private IEnumerable<Part> Parts()
    {
        var forms = _new.HasShortForm && _old.HasShortForm ? [0L, 1] : new[] { 0L };
        return AgeParts
            .Of(_joint.Protocol)
            .SelectMany(a => forms.Select(f => new Part(a, f, Untried: false)));
    }

    private void Bands(Part part, BandLine table)
    {
        var before = _old.Program.Bands.FirstOrDefault(b =>
            b.Table.Outcome.Name == table.Table.Outcome.Name && b.Table.ShortForm == table.Table.ShortForm
        );
        if (before is not null && table.Table.ShortForm == (part.Form == 1))
        {
            Try(
                part,
                table.Table.Outcome,
                before.Line,
                table.Line,
                code => Band(before.Table, code),
                code => Band(table.Table, code),
                before.Table.Bands.Select(b => b.Name).SequenceEqual(table.Table.Bands.Select(b => b.Name))
            );
        }
    }

    private void Try(
        Part part,
        Outcome? what,
        int oldLine,
        int newLine,
        Func<long, string> old,
        Func<long, string> @new,
        bool isSameWords
    )
    {
        int[] lines = [_joint.OldLine(oldLine), newLine];
        var nodes = lines.Select(l => _questions.Line(part, l)).ToList();
        if (nodes[0] == nodes[1] && isSameWords)
        {
            return;
        }

        try
        {
            Count(part, what, lines, old, @new);
        }
        catch (ProofLimitException)
        {
            _open.Add(
                $"{what?.Title ?? "The headline"} at {part.Ages}{(part.Form == 1 ? ", short form" : "")} has too many cases to keep apart."
            );
        }
    }

    private void Count(Part part, Outcome? what, int[] lines, Func<long, string> old, Func<long, string> @new)
    {
        var counted = new Reach(
            _questions.GraphOf(part),
            _questions.Space(part),
            [.. lines.Select(l => _questions.Line(part, l))],
            _questions.Related(part),
            counts: true
        );
        var all = Enumerable
            .Range(0, counted.Count)
            .Aggregate(BigInteger.Zero, (s, r) => s + counted.Ways(r));
        var reach = _questions.Ask(part, lines);
        var pairs = Enumerable
            .Range(0, counted.Count)
            .GroupBy(r => (Old: counted.Value(r, 0), New: counted.Value(r, 1)))
            .Where(g => old(g.Key.Old) != @new(g.Key.New))
            .OrderBy(g => g.Key);
        foreach (var pair in pairs)
        {
            var row = reach.Smallest(r =>
                reach.Value(r, 0) == pair.Key.Old && reach.Value(r, 1) == pair.Key.New
            );
            var severity = what is null ? Severity(pair.Key.Old, pair.Key.New) : 0;
            _changes.Add(
                new EditionChange(
                    what?.Title,
                    part.Ages,
                    part.Form == 1,
                    old(pair.Key.Old),
                    @new(pair.Key.New),
                    severity < 0,
                    severity > 0,
                    pair.Aggregate(BigInteger.Zero, (s, r) => s + counted.Ways(r)),
                    all,
                    Example(part, _questions.Witness(part, reach, row, lines), what)
                )
            );
        }
    }

    private ProofSitting Example(Part part, long[] fields, Outcome? what) =>
        SittingWords.Of(
            _new,
            fields,
            _questions.Space(part).Baseline,
            what is not null
                ? [what]
                : _new
                    .CutOffs.Select(t => t.Outcome)
                    .Where(o => _changes.Exists(c => c.What == o.Title && c.Ages == part.Ages))
        );

    /// <summary>Above 0: more severe now, by the later edition's order; an action that is gone counts as more severe.</summary>
    private int Severity(long old, long @new)
    {
        var before = old < 0 ? null : _old.Actions[(int)old].Name;
        var places = _new.Actions.Select((a, i) => (a.Name, i)).ToDictionary(a => a.Name, a => a.i);
        return before is null ? 0
            : !places.TryGetValue(before, out var place) || @new < 0 ? 1
            : place.CompareTo((int)@new);
    }

    private bool SameActions() =>
        _old.Actions.Select(a => a.Name).SequenceEqual(_new.Actions.Select(a => a.Name));

    private string OldAction(long code) => Action(_old, code);

    private string NewAction(long code) => Action(_new, code);

    private static string Action(Protocol protocol, long code) =>
        code < 0 ? "nothing settled" : protocol.Actions[(int)code].Title;

    private static string Band(CutOffTable table, long code) =>
        code < table.Bands.Count
            ? table.Bands[(int)code].Name
            : Sampling.RecordTarget.NoBand[(int)code - table.Bands.Count];
}
