namespace ProtocolKit.Calibration.Generalizability;

/// <summary>
/// Persons × items × occasions (or raters), fully crossed and random: Brennan RL (2001) Generalizability Theory, chapter
/// 3. Values by person, item, occasion; complete; at least two of each.
/// </summary>
public sealed class PersonByItemByOccasion
{
    private readonly int _persons;
    private readonly int _items;
    private readonly int _occasions;

    private PersonByItemByOccasion(double[][][] x)
    {
        (_persons, _items, _occasions) = (x.Length, x[0].Length, x[0][0].Length);
        Require.That(
            x.All(p => p.Length == _items && p.All(i => i.Length == _occasions)),
            "Every person needs the same items on the same occasions."
        );
        Require.That(
            _persons > 1 && _items > 1 && _occasions > 1,
            "At least two persons, items and occasions are needed."
        );
        Require.Finite(x.SelectMany(p => p.SelectMany(i => i)), "Scores");
        Components = Estimate(x);
        GrandMean = x.Average(p => p.Average(i => i.Average()));
    }

    /// <summary>p, i, o, pi, po, io, pio in this order.</summary>
    public IReadOnlyList<Component> Components { get; }

    public double GrandMean { get; }

    public double Variance(string name) => this[name].Variance;

    public Component this[string name] => Components.First(c => c.Name == name);

    public static PersonByItemByOccasion Of(double[][][] values) => new(values);

    /// <summary>A design with these numbers of items and occasions.</summary>
    public DecisionStudy Decide(double items, double occasions)
    {
        Require.That(items > 0 && occasions > 0, "A design needs at least one item and one occasion.");
        var both = items * occasions;
        var relative = (Variance("pi") / items) + (Variance("po") / occasions) + (Variance("pio") / both);
        var absolute =
            relative + (Variance("i") / items) + (Variance("o") / occasions) + (Variance("io") / both);
        return new DecisionStudy(Variance("p"), relative, absolute);
    }

    /// <summary>
    /// Reliabilities of repeated measurement with items fixed: Shrout PE, Lane SP (2012) in Handbook of Research Methods
    /// for Studying Daily Life, chapter 17.
    /// </summary>
    public DailyReliability Repeated()
    {
        double m = _items;
        double k = _occasions;
        var person = Variance("p") + (Variance("pi") / m);
        var change = Variance("po");
        var error = Variance("pio") / m;
        return new DailyReliability(
            person / (person + (error / k)),
            person / (person + Variance("o") + change + error),
            person / (person + ((Variance("o") + change + error) / k)),
            change / (change + error)
        );
    }

    private Component[] Estimate(double[][][] x)
    {
        var (a, b, c) = (_persons, _items, _occasions);
        double Mean(Func<int, int, int, bool> chosen)
        {
            var (sum, count) = (0.0, 0);
            for (var p = 0; p < a; p++)
            {
                for (var i = 0; i < b; i++)
                {
                    for (var o = 0; o < c; o++)
                    {
                        (sum, count) = chosen(p, i, o) ? (sum + x[p][i][o], count + 1) : (sum, count);
                    }
                }
            }

            return sum / count;
        }

        var g = Mean((_, _, _) => true);
        var (P, I, O) = (Range(a), Range(b), Range(c));
        double[] mp = [.. P.Select(p => Mean((q, _, _) => q == p) - g)];
        double[] mi = [.. I.Select(i => Mean((_, q, _) => q == i) - g)];
        double[] mo = [.. O.Select(o => Mean((_, _, q) => q == o) - g)];
        var pi = P.Select(p => I.Select(i => x[p][i].Average() - g - mp[p] - mi[i]).ToArray()).ToArray();
        var po = P.Select(p => O.Select(o => I.Average(i => x[p][i][o]) - g - mp[p] - mo[o]).ToArray())
            .ToArray();
        var io = I.Select(i => O.Select(o => P.Average(p => x[p][i][o]) - g - mi[i] - mo[o]).ToArray())
            .ToArray();
        var rest = P.Sum(p =>
            I.Sum(i =>
                O.Sum(o => Square(x[p][i][o] - g - mp[p] - mi[i] - mo[o] - pi[p][i] - po[p][o] - io[i][o]))
            )
        );
        double[] ss =
        [
            b * c * mp.Sum(Square),
            a * c * mi.Sum(Square),
            a * b * mo.Sum(Square),
            c * pi.Sum(r => r.Sum(Square)),
            b * po.Sum(r => r.Sum(Square)),
            a * io.Sum(r => r.Sum(Square)),
            rest,
        ];
        int[] df =
        [
            a - 1,
            b - 1,
            c - 1,
            (a - 1) * (b - 1),
            (a - 1) * (c - 1),
            (b - 1) * (c - 1),
            (a - 1) * (b - 1) * (c - 1),
        ];
        var ms = ss.Zip(df, (s, d) => s / d).ToArray();
        var e = ms[6];
        double[] raw =
        [
            (ms[0] - ms[3] - ms[4] + e) / (b * c),
            (ms[1] - ms[3] - ms[5] + e) / (a * c),
            (ms[2] - ms[4] - ms[5] + e) / (a * b),
            (ms[3] - e) / c,
            (ms[4] - e) / b,
            (ms[5] - e) / a,
            e,
        ];
        string[] names = ["p", "i", "o", "pi", "po", "io", "pio"];
        return [.. names.Select((n, j) => new Component(n, df[j], ss[j], ms[j], raw[j]))];
    }

    private static int[] Range(int count) => [.. Enumerable.Range(0, count)];

    private static double Square(double v) => v * v;
}

/// <summary>Reliability of a person's average over fixed occasions (RkF), of one random occasion (R1R), of the average of random occasions (RkR), and of change (Rc).</summary>
public sealed record DailyReliability(
    double AverageFixed,
    double SingleRandom,
    double AverageRandom,
    double Change
);
