using FsCheck;
using FsCheck.Fluent;
using ProtocolKit.Model;
using ProtocolKit.Proof.Sampling;

namespace ProtocolKit.Testing;

/// <summary>
/// Records of any protocol, for tests: each is one value per field of its scoring program, in the order of
/// <see cref="ScoringProgram.Fields"/>, and stands for a sheet that a clinician could have filled.
/// </summary>
public static class Records
{
    /// <summary>Sheets are drawn in batches, so that a million of them never stand in memory at once.</summary>
    private const int BatchSize = 128;

    /// <summary>FsCheck's usual size; sheets are always whole and take no notice of it.</summary>
    private const int Size = 50;

    /// <summary>
    /// Random records, in and around the protocol's ages, in the short form too where there is one.
    /// They shrink towards the flawless sheet: fewest answers that differ from it, then fewest steps off.
    /// </summary>
    public static Arbitrary<long[]> Any(Protocol protocol)
    {
        var plan = new SheetPlan(protocol);
        var seeds = Gen.Choose(int.MinValue, int.MaxValue).Two();
        var sheets = seeds.Select(s => RandomSheets.From(plan, ((ulong)(uint)s.Item1 << 32) | (uint)s.Item2));
        return Arb.From(sheets, fields => SheetShrinker.Of(plan, fields));
    }

    /// <summary>As many random records as asked for, the same for the same seed.</summary>
    public static IEnumerable<long[]> Random(Protocol protocol, int count, ulong seed)
    {
        var sheets = Any(protocol).Generator;
        for (var done = 0; done < count; done += BatchSize)
        {
            // An even step would halve the generator's period.
            var start = new Rnd(seed + (ulong)done, 0x9E3779B97F4A7C15);
            foreach (var sheet in sheets.Sample(Math.Min(BatchSize, count - done), start, Size))
            {
                yield return sheet;
            }
        }
    }

    /// <summary>
    /// Records at the edges, drawn at random: half of them from <see cref="AllAtEdges"/>, half with a value within a step of a
    /// band's limit, each record with that value equally likely. They shrink towards the flawless sheet.
    /// </summary>
    public static Arbitrary<long[]> AtEdges(Protocol protocol) => new SampledSheets(protocol).AtEdges();

    /// <summary>
    /// Complete records whose measure or score has exactly this value, each equally likely, at the protocol's ages. They
    /// shrink towards the flawless sheet among those with the same value.
    /// </summary>
    /// <param name="outcome">A measure or score with a step.</param>
    /// <exception cref="ArgumentException">There is none of this name, or no record with this value.</exception>
    /// <exception cref="Proof.ProofLimitException">There are too many cases to keep apart.</exception>
    public static Arbitrary<long[]> With(Protocol protocol, string outcome, Rational total) =>
        With(protocol, new RecordTarget.Total(outcome, total));

    /// <summary>
    /// Records that come to a target (a total, a band, a headline, an action), each equally likely. They shrink towards the
    /// flawless sheet among those that still come to it.
    /// </summary>
    /// <param name="ages">Null: all the protocol's ages.</param>
    /// <param name="shortForm">Whether records are of the short form.</param>
    /// <param name="untried">Whether answers may be untried.</param>
    /// <exception cref="ArgumentException">The protocol has no such target, or no record that comes to it.</exception>
    /// <exception cref="Proof.ProofLimitException">There are too many cases to keep apart.</exception>
    public static Arbitrary<long[]> With(
        Protocol protocol,
        RecordTarget target,
        AgeRange? ages = null,
        bool shortForm = false,
        bool untried = false
    ) => new SampledSheets(protocol).With(target, ages, shortForm, untried);

    /// <summary>
    /// As many exactly sampled records as asked for, the same for the same seed: a few of a band, a headline or a value beside a
    /// limit each, taken in a random order, complete and with untried answers, of both forms. Fewer where the protocol
    /// has no bands and no actions, or too many cases to count.
    /// </summary>
    public static IEnumerable<long[]> Sampled(Protocol protocol, int count, ulong seed) =>
        new SampledSheets(protocol).Of(count, seed);

    /// <summary>
    /// Every record at an edge, in one order: flawless, all lowest and all highest on both sides of every limit of age; all
    /// untried by each code; and every single change from the flawless sheet to an edge of its answer or to a code.
    /// </summary>
    public static IEnumerable<long[]> AllAtEdges(Protocol protocol) => EdgeSheets.Of(new SheetPlan(protocol));

    /// <summary>
    /// The sheet of the youngest child with nothing to remark: every answer at its better end, or at its
    /// lower bound without one; a choice at its first option; observations looked for and not seen.
    /// </summary>
    public static long[] Flawless(Protocol protocol)
    {
        var plan = new SheetPlan(protocol);
        return SheetRules.Flawless(plan, plan.FirstAge);
    }

    /// <summary>
    /// Puts right, in place, what cannot stand together on a sheet: a needless trial or a task off the form is not
    /// applicable, an untried answer has its lowest value, a trial that is due and missing is at its best.
    /// </summary>
    public static long[] Settle(Protocol protocol, long[] fields) =>
        SheetRules.Settle(new SheetPlan(protocol), fields);

    /// <summary>Simpler records of a record, the simplest first; none of the flawless one.</summary>
    public static IEnumerable<long[]> Shrink(Protocol protocol, long[] fields) =>
        SheetShrinker.Of(new SheetPlan(protocol), fields);

    /// <summary>How many answers differ from the flawless sheet.</summary>
    public static int CountDiffering(Protocol protocol, long[] fields) =>
        SheetShrinker.SizeOf(new SheetPlan(protocol), fields).Differing;
}
