using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using ProtocolKit.Model;

namespace ProtocolKit.Checks.Tests;

/// <summary>
/// R3: with untried answers a value lies between its ends for every completion, and the ends are reached where the value is a
/// monotone function of answers used once. Completions are tried one by one.
/// </summary>
public sealed class BoundsProperties
{
    private static readonly string[] Names = ["a", "b", "c", "d"];

    [Property(MaxTest = 150)]
    public Property Every_completion_lies_between_the_ends() =>
        Prop.ForAll(
            Formulas(depth: 3).ToArbitrary(),
            Holes().ToArbitrary(),
            (formula, holes) => Encloses(formula, holes, tight: false)
        );

    [Property(MaxTest = 60)]
    public Property Sums_of_different_answers_reach_both_ends() =>
        Prop.ForAll(
            Gen.SubListOf(Names).Where(n => n.Count > 0).Select(n => string.Join(" + ", n)).ToArbitrary(),
            Holes().ToArbitrary(),
            (formula, holes) => Encloses(formula, holes, tight: true)
        );

    /// <summary>Answers 0 to 2; minus one stands for untried.</summary>
    private static Gen<int[]> Holes() => Gen.Choose(-1, 2).ArrayOf(Names.Length);

    private static Gen<string> Formulas(int depth)
    {
        var leaf = Gen.OneOf(
            Gen.Elements(Names),
            Gen.Choose(0, 3).Select(n => n.ToString(System.Globalization.CultureInfo.InvariantCulture))
        );
        if (depth == 0)
        {
            return leaf;
        }

        var inner = Formulas(depth - 1);
        var pair = inner.SelectMany(l => inner.Select(r => (l, r)));
        return Gen.OneOf(
            leaf,
            pair.Select(p => $"({p.l} + {p.r})"),
            pair.Select(p => $"({p.l} - {p.r})"),
            pair.Select(p => $"({p.l} * {p.r})"),
            pair.Select(p => $"least({p.l}, {p.r})"),
            pair.Select(p => $"most({p.l}, {p.r})"),
            pair.SelectMany(p => inner.Select(c => $"(if {c} > 1 then {p.l} otherwise {p.r})"))
        );
    }

    private static bool Encloses(string formula, int[] holes, bool tight)
    {
        var tasks = string.Concat(Names.Select(n => $"task {n} item(three)\n"));
        var compiled = Compiled.Fragment(tasks + $"score t \"T\" = {formula}\n");
        var (low, high) = compiled.Ends("t", compiled.Run(Record(compiled, holes)));
        var values = Completions(holes)
            .Select(c => compiled.Value("t", compiled.Run(Record(compiled, c))))
            .ToList();
        var inside = values.TrueForAll(v => low <= v && v <= high);
        return inside && (!tight || (values.Min() == low && values.Max() == high));
    }

    private static long[] Record(Compiled compiled, int[] answers)
    {
        var record = compiled.Lowest();
        for (var i = 0; i < Names.Length; i++)
        {
            compiled.Set(
                record,
                $"{Names[i]}.rate",
                Math.Max(0, answers[i]),
                answers[i] < 0 ? State.Spoiled : State.Known
            );
        }

        return record;
    }

    private static IEnumerable<int[]> Completions(int[] holes)
    {
        var hole = Array.IndexOf(holes, -1);
        if (hole < 0)
        {
            return [holes];
        }

        return Enumerable
            .Range(0, 3)
            .SelectMany(v =>
            {
                var filled = (int[])holes.Clone();
                filled[hole] = v;
                return Completions(filled);
            });
    }
}
