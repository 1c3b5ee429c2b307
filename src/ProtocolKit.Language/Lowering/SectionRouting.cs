using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// The lines of one section's stop rule and start points. A run counts rated tasks that are given, in giving order; each
/// side or place is a task of its own. What is below the start point counts in no run.
/// </summary>
internal sealed class SectionRouting(
    ProgramBuilder program,
    FieldValue age,
    Section section,
    IReadOnlyList<RoutedPart> parts
)
{
    private readonly int _stop = section.Stop?.InARow ?? 0;

    private Giving AfterStop => section.IsByDifficulty ? Giving.StoppedLowest : Giving.StoppedOut;

    /// <summary>Why a part is or isn't given, in a section without start points; those before it are settled.</summary>
    public IntExpr Forward(RoutedPart part)
    {
        var run = part.RunBefore ?? IntMath.Number(0);
        var why = Stopped(part.Why, run);
        var index = parts.ToList().IndexOf(part);
        if (index + 1 < parts.Count)
        {
            var named = program.Name($"why.{part.Name}", why, "0 given");
            parts[index + 1].RunBefore = Run(part, Bools.Equal(named, 0), run);
            return named;
        }

        return why;
    }

    /// <summary>The same for a whole section with start points: up from the start, then back from it.</summary>
    public IEnumerable<(RoutedPart, IntExpr)> WithStart()
    {
        var start = program.Name(
            $"start.{section.Name}",
            StartAt(),
            "how many tasks, sides and places come before the start point"
        );
        var below = parts.Select((_, i) => Below(start, i)).ToList();
        var up = Up(below);
        var down = Down(below, up);
        return parts.Select((p, i) => (p, down[i]));
    }

    private static BoolExpr Below(IntExpr start, int index) => Bools.AtLeast(start, index + 1);

    private IntExpr StartAt()
    {
        IntExpr start = IntMath.Number(0);
        foreach (var point in section.StartPoints)
        {
            var index = parts.ToList().FindIndex(p => p.Task.Name == point.Task);
            start = IntMath.Choose(
                Bools.AtLeast(age, point.From.Months),
                IntMath.Number(Math.Max(0, index)),
                start
            );
        }

        return start;
    }

    /// <summary>From the first task to the last: what form, case history, skips and the stop say of each.</summary>
    private List<IntExpr> Up(List<BoolExpr> below)
    {
        var whys = new List<IntExpr>();
        IntExpr run = IntMath.Number(0);
        for (var i = 0; i < parts.Count; i++)
        {
            var why = program.Name(
                $"up.{parts[i].Name}",
                Stopped(parts[i].Why, run),
                "0 where it is given if it isn't below the start"
            );
            whys.Add(why);
            var counts = Bools.And(Bools.Not(below[i]), Bools.Equal(why, 0));
            run = Run(parts[i], counts, run);
        }

        return whys;
    }

    /// <summary>
    /// From the last task to the first: below the start a task is given until so many in a row above it are full, and
    /// what lies further down counts in full.
    /// </summary>
    private List<IntExpr> Down(List<BoolExpr> below, List<IntExpr> up)
    {
        var whys = new IntExpr[parts.Count];
        IntExpr full = IntMath.Number(0);
        var found = Bools.False;
        for (var i = parts.Count - 1; i >= 0; i--)
        {
            var (part, isBelow) = (parts[i], below[i]);
            found = Bools.And(isBelow, Bools.Or(Bools.AtLeast(full, section.GoBack), found));
            found = program.Name($"floor.{part.Name}", found, "enough tasks in a row above it are full");
            var credit = IntMath.Choose(found, IntMath.Number((long)Giving.BelowStart), IntMath.Number(0));
            var why = IntMath.Choose(
                Bools.And(isBelow, Bools.Equal(part.Why, 0)),
                credit,
                IntMath.Choose(isBelow, part.Why, up[i])
            );
            whys[i] = program.Name($"why.{part.Name}", why, "0 given");
            full = program.Name($"full.{part.Name}", Full(part, whys[i], full), "full in a row from it on");
        }

        return [.. whys];
    }

    /// <summary>How many rated tasks in a row are full from this one on, up to as many as are asked for.</summary>
    private IntExpr Full(RoutedPart part, IntExpr why, IntExpr above)
    {
        if (part.RatingEnds is not { } ends)
        {
            return above;
        }

        var most = IntMath.Number(section.GoBack);
        var more = IntMath.Least(program.Math.Add(above, IntMath.Number(1)), most);
        var isFull = Bools.And(Bools.Equal(why, 0), part.IsRated(ends.Best));
        return IntMath.Choose(
            Bools.Equal(part.Why, 0),
            IntMath.Choose(isFull, more, IntMath.Number(0)),
            above
        );
    }

    private IntExpr Stopped(IntExpr why, IntExpr run) =>
        _stop == 0
            ? why
            : IntMath.Choose(
                Bools.And(Bools.Equal(why, 0), Bools.AtLeast(run, _stop)),
                IntMath.Number((long)AfterStop),
                why
            );

    /// <summary>
    /// A given task rated lowest makes the run longer; a given one rated otherwise or untried breaks it; what isn't
    /// given or isn't rated leaves it.
    /// </summary>
    private IntExpr Run(RoutedPart part, BoolExpr given, IntExpr run)
    {
        if (_stop == 0 || part.RatingEnds is not { } ends)
        {
            return run;
        }

        var longer = IntMath.Least(program.Math.Add(run, IntMath.Number(1)), IntMath.Number(_stop));
        return program.Name(
            $"run.{part.Name}",
            IntMath.Choose(given, IntMath.Choose(part.IsRated(ends.Poorest), longer, IntMath.Number(0)), run),
            "rated lowest in a row, up to it"
        );
    }
}
