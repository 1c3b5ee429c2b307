using System.Numerics;
using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// Published scales written as protocols of ours: the compiled program reaches exactly the totals that are known, by as many
/// answer patterns. Sources are named in each case's file under Checks; what they print is compared first, at its printed digits.
/// </summary>
public sealed class ScaleTests
{
    private const int FewEnoughToTryAll = 50_000;

    public static TheoryData<string> Cases => [.. ScaleCase.Ids];

    /// <summary>scale-14 is wrong on purpose; see <see cref="Overlapping_bands_are_an_error_and_a_hole_is_no_band"/>.</summary>
    private static IReadOnlyList<(Rational, Rational)>? BandsOf(string id, ScaleCase scale) =>
        id == "scale-14-bad-bands" ? [(0, 4), (5, 9), (10, 14), (16, 27)] : scale.Bands;

    [Fact]
    public void All_ten_cases_are_here() => Assert.Equal(10, ScaleCase.Ids.Count());

    [Theory]
    [MemberData(nameof(Cases))]
    public void What_the_source_prints_comes_out_to_the_printed_digit(string id)
    {
        var scale = ScaleCase.Read(id);
        var totals = TotalsOf(Compiled.Text(scale.ToProtocol(BandsOf(id, scale))));
        if (scale.Published.Count == 0)
        {
            Assert.Equal("scale-14-bad-bands", id);
            return;
        }

        Assert.Equal(scale.Published["min"], totals.Keys.Min().ToString());
        Assert.Equal(scale.Published["max"], totals.Keys.Max().ToString());
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Totals_and_the_number_of_patterns_for_each_are_exact(string id)
    {
        var scale = ScaleCase.Read(id);
        var totals = TotalsOf(Compiled.Text(scale.ToProtocol(BandsOf(id, scale))));
        Assert.Equal(scale.Numbers("reachable_totals"), totals.Keys.Order());
        Assert.Equal(scale.Recomputed.GetProperty("n_reachable").GetInt32(), totals.Count);
        var patterns = totals.Values.Aggregate(BigInteger.Zero, (a, b) => a + b);
        Assert.Equal(scale.Recomputed.GetProperty("n_answer_patterns").GetInt64(), patterns);
        foreach (var expected in scale.Recomputed.GetProperty("patterns_per_total").EnumerateObject())
        {
            Assert.True(Rational.TryParse(expected.Name, out var total));
            Assert.Equal(expected.Value.GetInt64(), totals[total]);
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Where_all_patterns_can_be_tried_they_give_the_same_set(string id)
    {
        var scale = ScaleCase.Read(id);
        if (scale.Recomputed.GetProperty("n_answer_patterns").GetInt64() > FewEnoughToTryAll)
        {
            Assert.Contains(
                id,
                new[] { "scale-03-nihss", "scale-04-phq9", "scale-06-audit", "scale-14-bad-bands" }
            );
            return;
        }

        var compiled = Compiled.Text(scale.ToProtocol());
        Assert.Equal(scale.Numbers("reachable_totals"), compiled.Set("total"));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_reachable_total_is_in_one_band_and_holes_nobody_reaches_are_no_matter(string id)
    {
        var scale = ScaleCase.Read(id);
        var bands = BandsOf(id, scale)!;
        if (bands.Count == 0)
        {
            Assert.Contains(id, new[] { "scale-03-nihss", "scale-07-barthel", "scale-09-cha2ds2vasc" });
            return;
        }

        var compiled = Compiled.Text(scale.ToProtocol(bands));
        var outside = scale
            .Numbers("reachable_totals")
            .Where(t => compiled.Band("total", compiled.Run(RecordWith(compiled, t))) == "no band");
        Assert.Equal(id == "scale-14-bad-bands" ? [(Rational)15] : [], outside);
    }

    [Fact]
    public void Overlapping_bands_are_an_error_and_a_hole_is_no_band()
    {
        var scale = ScaleCase.Read("scale-14-bad-bands");
        Assert.Equal([(Rational)9, 15], scale.Numbers("not_in_exactly_one_band"));
        var finding = Assert.Single(Compiled.Text(scale.ToProtocol()).Of("PK4011"));
        Assert.Contains("9", finding.Message.Text, StringComparison.Ordinal);
    }

    /// <summary>
    /// A simple pass: what each answer adds is read off the program one answer at a time, held against random records, and
    /// folded item by item.
    /// </summary>
    private static Dictionary<Rational, BigInteger> TotalsOf(Compiled compiled)
    {
        var lowest = compiled.Lowest();
        var start = compiled.Value("total", compiled.Run(lowest));
        var adds = compiled
            .Program.Answers.Select(a => Contributions(compiled, lowest, a.ValueField, start))
            .ToList();
        CheckAdditive(compiled, start, adds);
        var totals = new Dictionary<Rational, BigInteger> { [start] = 1 };
        foreach (var item in adds)
        {
            var next = new Dictionary<Rational, BigInteger>();
            foreach (var (total, count) in totals)
            {
                foreach (var add in item)
                {
                    next[total + add] = next.GetValueOrDefault(total + add) + count;
                }
            }

            totals = next;
        }

        return totals;
    }

    private static List<Rational> Contributions(Compiled compiled, long[] lowest, int field, Rational start)
    {
        var record = (long[])lowest.Clone();
        var adds = new List<Rational>();
        for (
            var value = compiled.Program.Fields[field].Low;
            value <= compiled.Program.Fields[field].High;
            value++
        )
        {
            record[field] = value;
            adds.Add(compiled.Value("total", compiled.Run(record)) - start);
        }

        return adds;
    }

    private static void CheckAdditive(Compiled compiled, Rational start, List<List<Rational>> adds)
    {
        var random = new Random(20260301);
        var record = compiled.Lowest();
        for (var i = 0; i < 2000; i++)
        {
            var expected = start;
            for (var a = 0; a < adds.Count; a++)
            {
                var pick = random.Next(adds[a].Count);
                var field = compiled.Program.Answers[a].ValueField;
                record[field] = compiled.Program.Fields[field].Low + pick;
                expected += adds[a][pick];
            }

            Assert.Equal(expected, compiled.Value("total", compiled.Run(record)));
        }
    }

    /// <summary>Some record with this total, found by changes that never lead away from it, with a few that do.</summary>
    private static long[] RecordWith(Compiled compiled, Rational total)
    {
        var random = new Random(7);
        var record = compiled.Lowest();
        var distance = Distance(record);
        for (var i = 0; i < 100_000 && distance.Sign != 0; i++)
        {
            var field = compiled.Program.Answers[random.Next(compiled.Program.Answers.Count)].ValueField;
            var (low, high) = (compiled.Program.Fields[field].Low, compiled.Program.Fields[field].High);
            var before = record[field];
            record[field] = low + random.Next((int)(high - low) + 1);
            var after = Distance(record);
            if (after <= distance || random.Next(20) == 0)
            {
                distance = after;
            }
            else
            {
                record[field] = before;
            }
        }

        Assert.True(distance.Sign == 0, $"No record with total {total} was found.");
        return record;

        Rational Distance(long[] fields)
        {
            var difference = compiled.Value("total", compiled.Run(fields)) - total;
            return difference.Sign < 0 ? -difference : difference;
        }
    }
}
