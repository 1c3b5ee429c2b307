namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>Which row of a cut-off table a child is in, and how many of the bands came out how.</summary>
internal sealed class ExampleRows(ExampleAnswers answers, int rows)
{
    public const int Outside = -1;

    /// <summary>0 to 2 by age, 3 to 5 in the short form; -1 outside the ages.</summary>
    public int[] Group { get; } = new int[rows];

    /// <summary>Bands in bytes of their own: look further, look again, as expected, undecided.</summary>
    public long[] Tally { get; } = new long[rows];

    /// <summary>The same for the five totals alone.</summary>
    public long[] Totals { get; } = new long[rows];

    public void Start(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            var age = answers.Ages[row];
            var group =
                age is < 48 or > 143 ? Outside
                : age < 60 ? 0
                : age < 84 ? 1
                : 2;
            Group[row] = group == Outside ? Outside : group + 3 * (int)answers.Forms[row];
            Tally[row] = 0;
            Totals[row] = 0;
        }
    }
}

/// <summary>A cut-off table: from where on to look again, and from where on all is as expected, by age, full form first.</summary>
internal sealed class ExampleBands
{
    public const int Undecided = 3;
    public const int NotApplicable = 4;

    private readonly long[] _again;
    private readonly long[] _expected;
    private readonly long[] _full;
    private readonly long[]? _short;
    private readonly int[] _groups;
    private readonly long[] _tally;

    public ExampleBands(
        ExampleResults results,
        ExampleRows rows,
        string name,
        params (long Again, long Expected)[] limits
    )
    {
        _again = [.. limits.Select(l => l.Again)];
        _expected = [.. limits.Select(l => l.Expected)];
        _full = results.Bands(name, shortForm: false)!;
        _short = results.Bands(name, shortForm: true);
        (_groups, _tally) = (rows.Group, rows.Tally);
    }

    /// <summary>Writes the band down. A lower value is worse; where a lower one is better, hand in what is below zero.</summary>
    public long Put(int row, long low, long high)
    {
        var group = _groups[row];
        long band = NotApplicable;
        if ((uint)group < (uint)_again.Length)
        {
            var (again, expected) = (_again[group], _expected[group]);
            var worst = Band(low, again, expected);
            band = low == high || worst == Band(high, again, expected) ? worst : Undecided;
            _tally[row] += 1L << (int)(band * 8);
        }

        var isShort = group > 2;
        _full[row] = isShort ? NotApplicable : band;
        if (_short is not null)
        {
            _short[row] = isShort ? band : NotApplicable;
        }

        return band;
    }

    private static long Band(long value, long again, long expected) =>
        value < again ? 0
        : value < expected ? 1
        : 2;
}
