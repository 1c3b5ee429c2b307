using FsCheck;
using FsCheck.Fluent;
using ProtocolKit.Model;
using ProtocolKit.Proof;
using ProtocolKit.Proof.Sampling;

namespace ProtocolKit.Testing;

/// <summary>Records drawn exactly: uniformly from all that come to a target.</summary>
internal sealed class SampledSheets(Protocol protocol)
{
    /// <summary>Of one target so many are drawn before the next.</summary>
    private const int PerTarget = 8;

    private readonly SheetPlan _plan = new(protocol);
    private readonly Dictionary<(AgeRange?, bool, bool), RecordSampler> _samplers = [];

    /// <summary>What is drawn, and of whom.</summary>
    private sealed record Wish(RecordTarget Target, AgeRange? Ages, bool ShortForm, bool Untried);

    public Arbitrary<long[]> With(RecordTarget target, AgeRange? ages, bool shortForm, bool untried)
    {
        var sampler = Sampler(ages, shortForm, untried);
        if (sampler.Count(target).IsZero)
        {
            throw new ArgumentException($"No record comes to {target}.", nameof(target));
        }

        var smallest = sampler.Smallest(target);
        return Arb.From(
            Seeds.Select(seed => sampler.Draw(target, 1, seed).First()),
            fields => Shrink(fields, smallest, f => sampler.Fits(target, f))
        );
    }

    public Arbitrary<long[]> AtEdges()
    {
        var all = EdgeSheets.Of(_plan).ToList();
        var edges = Limits().ToList();
        var sheets = Seeds.Select(seed =>
        {
            var draw = new Xoshiro256(seed);
            return edges.Count > 0 && draw.Between(0, 1) == 1
                ? DrawnFrom(draw.OneOf(edges), draw) ?? draw.OneOf(all)
                : draw.OneOf(all);
        });
        return Arb.From(sheets, fields => SheetShrinker.Of(_plan, fields));
    }

    public IEnumerable<long[]> Of(int count, ulong seed)
    {
        var draw = new Xoshiro256(seed);
        var wishes = draw.Shuffle(Wishes());
        var given = 0;
        foreach (var wish in wishes)
        {
            for (var i = 0; i < PerTarget && given < count; i++)
            {
                if (DrawnFrom(wish, draw) is not { } fields)
                {
                    break;
                }

                given++;
                yield return fields;
            }

            if (given == count)
            {
                yield break;
            }
        }
    }

    private static Gen<ulong> Seeds =>
        Gen.Choose(int.MinValue, int.MaxValue)
            .Two()
            .Select(s => ((ulong)(uint)s.Item1 << 32) | (uint)s.Item2);

    /// <summary>The smallest first, then what is simpler by one step and still comes to the target.</summary>
    private IEnumerable<long[]> Shrink(long[] fields, long[]? smallest, Func<long[], bool> fits)
    {
        var size = SheetShrinker.SizeOf(_plan, fields);
        if (smallest is not null && SheetShrinker.SizeOf(_plan, smallest).CompareTo(size) < 0)
        {
            yield return (long[])smallest.Clone();
        }

        foreach (var simpler in SheetShrinker.Of(_plan, fields).Where(fits))
        {
            yield return simpler;
        }
    }

    /// <summary>A record of a wish; null where there is none, or there are too many cases to count.</summary>
    private long[]? DrawnFrom(Wish wish, Xoshiro256 draw)
    {
        try
        {
            return Sampler(wish.Ages, wish.ShortForm, wish.Untried)
                .Draw(wish.Target, 1, draw)
                .FirstOrDefault();
        }
        catch (ProofLimitException)
        {
            return null;
        }
    }

    private RecordSampler Sampler(AgeRange? ages, bool shortForm, bool untried)
    {
        if (!_samplers.TryGetValue((ages, shortForm, untried), out var sampler))
        {
            _samplers[(ages, shortForm, untried)] = sampler = new RecordSampler(
                protocol,
                ages,
                shortForm,
                untried
            );
        }

        return sampler;
    }

    private IEnumerable<Wish> Wishes()
    {
        foreach (var table in protocol.Program.Bands.Select(b => b.Table))
        {
            foreach (var untried in new[] { false, true })
            {
                var names = table.Bands.Select(b => b.Name).Concat(untried ? ["undecided"] : []);
                foreach (var name in names)
                {
                    var target = new RecordTarget.Band(table.Outcome.Name, name);
                    yield return new Wish(target, null, table.ShortForm, untried);
                }
            }
        }

        foreach (var line in protocol.Program.Actions)
        {
            foreach (var untried in new[] { false, true })
            {
                yield return new Wish(
                    new RecordTarget.Headline(line.Action.Name),
                    null,
                    ShortForm: false,
                    untried
                );
            }
        }

        foreach (var limit in Limits())
        {
            yield return limit;
        }
    }

    /// <summary>Every value within a step of a limit, at the ages of its row.</summary>
    private IEnumerable<Wish> Limits() =>
        from line in protocol.Program.Bands
        from row in line.Table.Rows
        from value in EdgeRecords.ValuesNear(row, line.Table.Outcome.Step!.Value)
        select new Wish(
            new RecordTarget.Total(line.Table.Outcome.Name, value),
            row.Ages,
            line.Table.ShortForm,
            Untried: false
        );
}
