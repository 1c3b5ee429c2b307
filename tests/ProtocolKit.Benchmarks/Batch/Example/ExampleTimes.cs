namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>Times, lengths and rates: each stands alone.</summary>
internal sealed class ExampleTimes(ExampleAnswers answers, ExampleResults results, ExampleRows rows)
{
    private readonly Trials _gap = answers.Trials("widest-gap.gap", 2);
    private readonly Trials _openShut = answers.Trials("five-open-shut.duration", 2);
    private readonly Trials _kissSmile = answers.Trials("kiss-smile-five.duration", 2);
    private readonly Trials _swaps = answers.Trials("corner-swaps.swaps", 2);
    private readonly Single _pairs = answers.One("pairs-in-ten.pairs", 20);
    private readonly Trials _blow = answers.Trials("steady-blow.duration", 3);
    private readonly Trials _longAh = answers.Trials("long-ah.duration", 3);
    private readonly Trials _longS = answers.Trials("long-s.duration", 2);
    private readonly Trials _longZ = answers.Trials("long-z.duration", 2);

    private readonly Measure _opening = new(results, rows, "mouth-opening", (25, 30), (27, 32), (30, 35));
    private readonly Measure _openShutTime = new(
        results,
        rows,
        "open-shut-time",
        (-100, -80),
        (-90, -70),
        (-80, -60)
    );
    private readonly Measure _kissSmileTime = new(
        results,
        rows,
        "kiss-smile-time",
        (-120, -100),
        (-110, -90),
        (-95, -75)
    );
    private readonly Measure _swapRate = new(results, rows, "swap-rate", (6, 10), (8, 12), (10, 16));
    private readonly Measure _pairRate = new(results, rows, "pair-rate", (2, 3), (3, 4), (4, 6));
    private readonly Measure _blowTime = new(results, rows, "blow-time", (10, 20), (15, 25), (20, 35));
    private readonly Measure _phonation = new(
        results,
        rows,
        "best-phonation",
        (30, 50),
        (40, 65),
        (55, 85),
        (30, 50),
        (45, 70),
        (45, 70)
    );
    private readonly Measure _ratio = new(
        results,
        rows,
        "s-z-ratio",
        (-160, -140),
        (-160, -140),
        (-160, -140)
    );

    public void Run(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            _opening.Put(row, _gap.Highest(row, 0, 70));
            _openShutTime.PutLowerBetter(row, _openShut.Lowest(row, 10, 300));
            _kissSmileTime.PutLowerBetter(row, _kissSmile.Lowest(row, 10, 300));
            _swapRate.Put(row, InFive(_swaps.Highest(row, 0, 25)));
            _pairRate.Put(row, _pairs.At(row));
        }

        for (var row = from; row < to; row++)
        {
            _blowTime.Put(row, _blow.Highest(row, 0, 200));
            _phonation.Put(row, _longAh.Highest(row, 5, 400));
            _ratio.PutLowerBetter(row, Beside(_longS.Mean(row, 5, 400), _longZ.Mean(row, 5, 400)));
        }
    }

    /// <summary>Ten times as many in five seconds are twice as many tenths: nothing is left to round.</summary>
    private static Ends InFive(Ends swaps) => swaps with { Low = swaps.Low * 2, High = swaps.High * 2 };

    private static Ends Beside(Ends s, Ends z) =>
        s.State == 0 && z.State == 0
            ? Ends.Of(Hundredths(s.Low, z.Low))
            : new Ends(
                s.State == 1 || z.State == 1 ? 1 : 0,
                Hundredths(s.Low, z.High),
                Hundredths(s.High, z.Low)
            );

    private static long Hundredths(long s, long z) => (s * 200 + z) / (z * 2);
}

/// <summary>Syllables, rounds and words in a second, the fastest trial of three.</summary>
internal sealed class ExampleRuns(ExampleAnswers answers, ExampleResults results, ExampleRows rows)
{
    private readonly Run[] _runs =
    [
        new(
            answers,
            "pa-run.syllables",
            100,
            600,
            new Measure(results, rows, "pa-rate", (25, 30), (30, 35), (35, 42), (25, 30), (30, 37), (30, 37))
        ),
        new(
            answers,
            "ta-run.syllables",
            100,
            600,
            new Measure(results, rows, "ta-rate", (25, 30), (30, 35), (35, 42))
        ),
        new(
            answers,
            "ka-run.syllables",
            100,
            600,
            new Measure(results, rows, "ka-rate", (23, 28), (28, 32), (32, 39))
        ),
        new(
            answers,
            "three-place-run.rounds",
            1000,
            2000,
            new Measure(
                results,
                rows,
                "three-place-rate",
                (45, 60),
                (55, 75),
                (75, 100),
                (45, 60),
                (60, 80),
                (60, 80)
            )
        ),
        new(
            answers,
            "known-word-run.words",
            1000,
            1500,
            new Measure(results, rows, "known-word-rate", (45, 60), (55, 75), (75, 95))
        ),
    ];

    public void Run(int from, int to)
    {
        foreach (var run in _runs)
        {
            run.Fill(from, to);
        }
    }
}

/// <param name="parts">How many steps of the rate a count a tenth of a second comes to.</param>
internal sealed class Run(ExampleAnswers answers, string counts, long parts, long most, Measure rate)
{
    private readonly Trials _counts = answers.Trials(counts, 3);
    private readonly Trials _times = answers.Trials(counts[..counts.IndexOf('.')] + ".duration", 3);

    public void Fill(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            rate.Put(row, _counts.Fastest(_times, row, parts, most));
        }
    }
}

/// <summary>A value with its bands.</summary>
internal sealed class Measure(
    ExampleResults results,
    ExampleRows rows,
    string name,
    params (long Again, long Expected)[] limits
)
{
    private readonly Value _value = results.Of(name);
    private readonly ExampleBands _bands = new(results, rows, name, limits);

    public void Put(int row, Ends ends)
    {
        _value.Put(row, ends.State == 1 ? 1 : 0, ends.Low, ends.High);
        _bands.Put(row, ends.Low, ends.High);
    }

    public void PutLowerBetter(int row, Ends ends)
    {
        _value.Put(row, ends.State == 1 ? 1 : 0, ends.Low, ends.High);
        _bands.Put(row, -ends.High, -ends.Low);
    }
}
