namespace ProtocolKit.Checks.Tests.Mixed;

/// <summary>
/// What a value is: known between two ends (State 0), not applicable (1), or blocked by the reason of this number.
/// </summary>
internal readonly record struct Found(int State, decimal Low, decimal High)
{
    public bool IsKnown => State == 0;
    public bool IsExact => State == 0 && Low == High;

    public static Found Of(decimal value) => new(0, value, value);

    public static Found None(int state) => new(state, 0, 0);

    public override string ToString() =>
        State switch
        {
            0 => Low == High ? $"{Low / 1.0000000m:0.####}" : $"{Low:0.####} to {High:0.####}",
            1 => "not applicable",
            _ => $"blocked by {State}",
        };
}

/// <summary>A task's answer as it counts.</summary>
/// <param name="Untried">The reason where it is untried, else 0.</param>
/// <param name="IsOut">Left out by a skip or a stop: not applicable.</param>
internal readonly record struct Counted(int Points, int Untried, bool IsOut)
{
    public Found ToFound() =>
        IsOut ? Found.None(1)
        : Untried > 0 ? new Found(0, 0, 2)
        : Found.Of(Points);
}

/// <summary>
/// The rules of meaning R1 to R20 on a drawn protocol and a sheet, by hand: nothing here knows the compiler, the core program
/// or the evaluator. Values and answers by name, for comparison with what they say.
/// </summary>
internal sealed class MixedReference
{
    private readonly MixedSpec _spec;
    private readonly MixedSheet _sheet;
    private readonly Dictionary<string, Counted> _answers = new(StringComparer.Ordinal);

    public MixedReference(MixedSpec spec, MixedSheet sheet)
    {
        (_spec, _sheet) = (spec, sheet);
        new MixedRouting(spec, sheet, _answers).Run();
        foreach (var name in new[] { "x.right", "x.left", "y.right", "y.left" })
        {
            _answers[name] = Kept(sheet.Written[name.Replace(".", ".rate.", StringComparison.Ordinal)]);
        }

        Values["t"] = Sum([.. spec.Tasks.Select(t => _answers[t.Name])], spec.PolicyOfT);
        Values["u"] = Sum([.. Sides.Select(s => _answers[s])], spec.PolicyOfU);
        Found[] three = [.. "abc".Select(c => _answers[c.ToString()].ToFound())];
        Values["m"] = Over(three, Median, 0.5m);
        Values["n"] = Over(three, p => p.Sum() / p.Count, 0.1m);
        Values["v"] = Weighted();
        Values["choice"] = Choice();
        Values["diff"] = Difference();
        Values["all"] = SumOfScores();
        Values["p"] = Table();
    }

    public static IReadOnlyList<string> Sides { get; } = ["x.right", "x.left", "y.right", "y.left"];

    public Dictionary<string, Found> Values { get; } = new(StringComparer.Ordinal);

    /// <summary>One rating as written.</summary>
    public static Counted Kept(int written) => written < 0 ? new(0, -written, false) : new(written, 0, false);

    /// <summary>low, middle, high, undecided, not applicable or blocked.</summary>
    public string Band(int index)
    {
        var name = MixedSpec.Banded[index];
        var value = Values[name];
        var inAges = _sheet.Months is >= 48 and < 72;
        var isShortened = _spec.Tasks.Any(t => _answers[t.Name].IsOut);
        if (value.State > 1)
        {
            return "blocked";
        }

        if (value.State == 1 || !inAges || isShortened)
        {
            return "not applicable";
        }

        var (least, most) = _spec.RangeOf(name);
        var (middle, high) = MixedSpec.Split(_spec.Limits[index], least, most);
        var (a, b) = (Of(value.Low), Of(value.High));
        return a == b ? a : "undecided";

        string Of(decimal number) =>
            number < middle ? "low"
            : number < high ? "middle"
            : "high";
    }

    /// <summary>True: it applies; false: it surely does not; null: undecided.</summary>
    public IReadOnlyDictionary<string, bool?> Actions()
    {
        string[] bands = [.. Enumerable.Range(0, MixedSpec.Banded.Count).Select(Band)];
        var open = bands.Count(b => b is "undecided" or "blocked");
        bool? refer = AtLeast(1, bands.Count(b => b == "low"), open);
        bool? again = AtLeast(_spec.Bands, bands.Count(b => b is "low" or "middle"), open);
        bool? finish = bands.Contains("undecided");
        bool?[] others = [refer, again, finish];
        bool? none =
            others.Contains(true) ? false
            : others.Contains(null) || open > 0 ? null
            : true;
        return new Dictionary<string, bool?>
        {
            ["refer"] = refer,
            ["again"] = again,
            ["finish"] = finish,
            ["none"] = none,
        };
    }

    private static bool? AtLeast(int wanted, int known, int open) =>
        known >= wanted ? true
        : known + open < wanted ? false
        : null;

    private static Found Sum(IReadOnlyList<Counted> parts, string policy)
    {
        var there = parts.Where(p => !p.IsOut).ToList();
        if (there.Count == 0)
        {
            return Found.None(1);
        }

        var untried = there.Where(p => p.Untried > 0).ToList();
        var points = there.Where(p => p.Untried == 0).Sum(p => p.Points);
        if (policy.Length == 0 || untried.Count == 0)
        {
            return new Found(0, points, points + (2 * untried.Count));
        }

        var gravest = untried.Max(p => p.Untried);
        if (policy == "blocks" || untried.Count > int.Parse(policy[^1..]) || untried.Count == there.Count)
        {
            return Found.None(gravest);
        }

        return Found.Of(Round((decimal)points * there.Count / (there.Count - untried.Count), 1));
    }

    /// <summary>Passing over what doesn't apply; both ends alike.</summary>
    private static Found Over(Found[] parts, Func<List<decimal>, decimal> work, decimal step)
    {
        var there = parts.Where(p => p.State != 1).ToList();
        return there.Count == 0
            ? Found.None(1)
            : new Found(
                0,
                Round(work([.. there.Select(p => p.Low)]), step),
                Round(work([.. there.Select(p => p.High)]), step)
            );
    }

    private static decimal Median(List<decimal> parts)
    {
        parts.Sort();
        return (parts[(parts.Count - 1) / 2] + parts[parts.Count / 2]) / 2;
    }

    private static decimal Round(decimal value, decimal step) => Math.Floor((value / step) + 0.5m) * step;

    private Found Weighted()
    {
        Found[] parts = [_answers["a"].ToFound(), Values["t"], Values["u"]];
        if (parts.Max(p => p.State) is var state and > 0)
        {
            return Found.None(state);
        }

        var (a, t, u) = (parts[0], parts[1], parts[2]);
        var weights = _spec.Weights;
        return new Found(
            0,
            (weights[0] * a.Low) + (weights[1] * t.Low) - (weights[2] * u.High),
            (weights[0] * a.High) + (weights[1] * t.High) - (weights[2] * u.Low)
        );
    }

    /// <summary>if a = 2 and b >= 1 then t otherwise u.</summary>
    private Found Choice()
    {
        var (a, b) = (_answers["a"], _answers["b"]);
        bool? first = a.IsOut || a.Untried > 0 ? null : a.Points == 2;
        bool? second = b.IsOut || b.Untried > 0 ? null : b.Points >= 1;

        // R18: one part that is false settles it, whatever the other is; else what isn't applicable can't be asked about.
        bool? both =
            first == false || second == false ? false
            : first == true && second == true ? true
            : null;
        if (both is null && (a.IsOut || b.IsOut))
        {
            return Found.None(1);
        }

        var (t, u) = (Values["t"], Values["u"]);
        if (both is { } known)
        {
            return known ? t : u;
        }

        return Math.Max(t.State, u.State) is var state and > 0
            ? Found.None(state)
            : new Found(0, Math.Min(t.Low, u.Low), Math.Max(t.High, u.High));
    }

    private Found Difference()
    {
        var untried = Sides.Max(s => _answers[s].Untried);
        return untried > 0
            ? Found.None(untried)
            : Found.Of(
                Sides.Sum(s =>
                    s.EndsWith("left", StringComparison.Ordinal) ? _answers[s].Points : -_answers[s].Points
                )
            );
    }

    /// <summary>Scores of scores apply the policy to their parts, never to the tasks beneath.</summary>
    private Found SumOfScores()
    {
        Found[] parts = [Values["t"], Values["u"]];
        var there = parts.Where(p => p.State != 1).ToList();
        var open = there.Where(p => !p.IsExact).ToList();
        if (there.Count == 0)
        {
            return Found.None(1);
        }

        if (_spec.PolicyOfAll.Length == 0)
        {
            return there.Max(p => p.State) is var state and > 1
                ? Found.None(state)
                : new Found(0, there.Sum(p => p.Low), there.Sum(p => p.High));
        }

        if (open.Count == 0)
        {
            return Found.Of(there.Sum(p => p.Low));
        }

        if (_spec.PolicyOfAll == "blocks" || open.Count == there.Count)
        {
            return Found.None(GravestBeneath());
        }

        // One of the two is there: t's range or u's, whichever it is, stretched to the range of both.
        var most = parts[0].IsExact ? _spec.MostOfT : 8;
        var whole = _spec.MostOfT + 8;
        return Found.Of(Round(there.First(p => p.IsExact).Low * whole / most, 1));
    }

    private int GravestBeneath()
    {
        var names = new List<string>();
        if (!Values["t"].IsExact && Values["t"].State != 1)
        {
            names.AddRange(_spec.Tasks.Select(t => t.Name));
        }

        if (!Values["u"].IsExact && Values["u"].State != 1)
        {
            names.AddRange(Sides);
        }

        return names.Max(n => _answers[n].Untried);
    }

    private Found Table()
    {
        var raw = Values["u"];
        if (raw.State > 1)
        {
            return raw;
        }

        if (raw.State == 1 || _sheet.Months is < 48 or >= 72)
        {
            return Found.None(1);
        }

        return new Found(0, Of(raw.Low), Of(raw.High));

        decimal Of(decimal value) =>
            (value, _sheet.Months < 60) switch
            {
                (<= 2, true) => 1,
                (<= 2, false) => 2,
                (<= 6, true) => 20,
                (<= 6, false) => 10,
                (_, true) => 90,
                _ => 80,
            };
    }
}
