using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Sampling;

/// <summary>
/// Exact uniform samples: of all records of some ages and one form that come to a target, each is equally likely, months of age
/// included. Nothing is drawn and thrown away: records are counted, and the draw walks back through the counts. The generator is
/// <see cref="Xoshiro256"/>; the same seed gives the same records on every machine. Every record is scored before it is given.
/// </summary>
/// <param name="protocol">A compiled protocol.</param>
/// <param name="ages">Null: all the protocol's ages.</param>
/// <param name="shortForm">Whether records are of the short form.</param>
/// <param name="untried">Whether answers may be untried, each for any reason; else every one is given.</param>
public sealed class RecordSampler(
    Protocol protocol,
    AgeRange? ages = null,
    bool shortForm = false,
    bool untried = false
)
{
    private readonly Questions _questions = new(protocol, Reach.Limit);
    private readonly Dictionary<string, List<CountedStep>> _known = new(StringComparer.Ordinal);
    private readonly Dictionary<string, RecordWays> _ways = new(StringComparer.Ordinal);
    private readonly IReadOnlyList<AgeRange> _parts = PartsOf(protocol, ages ?? protocol.Ages);

    /// <summary>How many records there are, each month of age counted by itself.</summary>
    /// <exception cref="ArgumentException">The protocol has no such outcome, band or action.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public BigInteger Count(RecordTarget target) =>
        Rows(target).Aggregate(BigInteger.Zero, (sum, row) => sum + row.Weight);

    /// <summary>As many records as asked for, drawn one by one with replacement; none where there is none to draw.</summary>
    /// <returns>One value per field of the scoring program each.</returns>
    /// <exception cref="ArgumentException">The protocol has no such outcome, band or action.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IEnumerable<long[]> Draw(RecordTarget target, int count, ulong seed) =>
        Draw(target, count, new Xoshiro256(seed));

    /// <inheritdoc cref="Draw(RecordTarget, int, ulong)"/>
    /// <param name="generator">Goes on from where it stands.</param>
    public IEnumerable<long[]> Draw(RecordTarget target, int count, Xoshiro256 generator)
    {
        ArgumentNullException.ThrowIfNull(generator);
        var rows = Rows(target);
        return rows.Count == 0 ? [] : Draws();

        IEnumerable<long[]> Draws()
        {
            var all = rows.Aggregate(BigInteger.Zero, (sum, row) => sum + row.Weight);
            for (var i = 0; i < count; i++)
            {
                yield return Draw(target, rows, generator.Below(all), generator);
            }
        }
    }

    /// <summary>The record closest to the flawless sheet (core.md R22) that comes to a target, the youngest child's; null where none does.</summary>
    /// <exception cref="ArgumentException">The protocol has no such outcome, band or action.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public long[]? Smallest(RecordTarget target) =>
        _parts
            .Select(p => new SmallestRecords(protocol, p.From, shortForm, untried).For(target))
            .FirstOrDefault(f => f is not null);

    /// <summary>Whether a record comes to a target, by scoring it; of another form or age it never does.</summary>
    /// <exception cref="ArgumentException">The protocol has no such outcome, band or action.</exception>
    public bool Fits(RecordTarget target, IReadOnlyList<long> fields)
    {
        ArgumentNullException.ThrowIfNull(target);
        ArgumentNullException.ThrowIfNull(fields);
        var age = new Age((int)fields[protocol.Program.AgeField]);
        if (fields[protocol.Program.FormField] != (shortForm ? 1 : 0) || !_parts.Any(p => p.Contains(age)))
        {
            return false;
        }

        var (lines, fits) = target.In(protocol.Program, shortForm);
        var scored = Evaluator.Run(protocol.Program, fields);
        return fits([.. lines.Select(l => scored[l])]);
    }

    private sealed record Row(AgeRange Ages, RecordWays Ways, int Index, BigInteger Weight);

    private List<Row> Rows(RecordTarget target)
    {
        ArgumentNullException.ThrowIfNull(target);
        var (lines, fits) = target.In(protocol.Program, shortForm);
        var rows = new List<Row>();
        foreach (var range in _parts)
        {
            var months = range.To.Months - range.From.Months + 1;
            var ways = WaysOf(range, lines);
            for (var row = 0; row < ways.Rows; row++)
            {
                if (fits([.. lines.Select((_, i) => ways.Value(row, i))]))
                {
                    rows.Add(new Row(range, ways, row, ways.Count(row) * months));
                }
            }
        }

        return rows;
    }

    private RecordWays WaysOf(AgeRange range, int[] lines)
    {
        var key = $"{range.From.Months} {string.Join(' ', lines)}";
        if (!_ways.TryGetValue(key, out var ways))
        {
            // No line tells the months of a part apart, so one of them stands for all.
            var part = new Part(new AgeRange(range.From, range.From), shortForm ? 1 : 0, untried);
            _ways[key] = ways = new RecordWays(_questions, part, lines, _known);
        }

        return ways;
    }

    private long[] Draw(RecordTarget target, List<Row> rows, BigInteger at, Xoshiro256 generator)
    {
        var row = rows[0];
        foreach (var candidate in rows)
        {
            row = candidate;
            at -= candidate.Weight;
            if (at.Sign < 0)
            {
                break;
            }
        }

        var fields = row.Ways.Draw(row.Index, generator);
        fields[protocol.Program.AgeField] = generator.Between(row.Ages.From.Months, row.Ages.To.Months);
        return Fits(target, fields)
            ? fields
            : throw new InvalidOperationException(
                $"A drawn record does not come to {target}: scoring disagrees."
            );
    }

    private static List<AgeRange> PartsOf(Protocol protocol, AgeRange wanted) =>
        [
            .. AgeParts
                .Of(protocol)
                .Where(p => p.Overlaps(wanted))
                .Select(p => new AgeRange(
                    p.From < wanted.From ? wanted.From : p.From,
                    p.To > wanted.To ? wanted.To : p.To
                )),
        ];
}
