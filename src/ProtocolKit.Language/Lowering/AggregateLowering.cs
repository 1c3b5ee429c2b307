using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Sums, means, best and worst over lists. They pass over parts that are not applicable and are not
/// applicable themselves only when every part is.
/// </summary>
internal sealed class AggregateLowering(
    ProgramBuilder program,
    ExpressionLowering expressions,
    NameLookup names,
    TaskIndex tasks,
    WorkLimit work,
    DiagnosticBag diagnostics
)
{
    private readonly IntMath _math = program.Math;

    public Value? Lower(AggregateNode node, LoweringScope scope)
    {
        if (Matched(node, scope) is not { } parts)
        {
            return null;
        }

        var kind = node.Kind is Aggregate.Best or Aggregate.Worst ? Ranked(node, parts, scope) : node.Kind;
        return kind switch
        {
            null => null,
            _ when !work.Spend(parts.Count, scope.Source, node.Place) => null,
            Aggregate.Sum => Sum(parts),
            Aggregate.Mean => Mean(parts),
            Aggregate.Median => Median(parts),
            Aggregate.Highest => Extreme(parts, highest: true),
            _ => Extreme(parts, highest: false),
        };
    }

    /// <summary>The parts of a list on one scale, or null after reporting.</summary>
    public List<Value>? PartsOf(AggregateNode node, LoweringScope scope) =>
        Matched(node, scope) is { } parts ? ToOneScale(parts) : null;

    private List<Value>? Matched(AggregateNode node, LoweringScope scope)
    {
        var parts = Parts(node.List, scope);
        return parts is null || parts.Count == 0 ? null : Matched(parts, node.Place, scope.Source);
    }

    /// <summary>The same values where all are in one unit; else null after reporting.</summary>
    public List<Value>? Matched(List<Value> parts, Place place, SourceText source)
    {
        for (var i = 1; i < parts.Count; i++)
        {
            if (expressions.Match(parts[0], parts[i], "These can't stand in one list", place, source) is null)
            {
                return null;
            }
        }

        return parts;
    }

    private Aggregate? Ranked(AggregateNode node, List<Value> parts, LoweringScope scope)
    {
        var better = parts[0].Better;
        if (better is not (Better.Higher or Better.Lower) || parts.Exists(p => p.Better != better))
        {
            var word = node.Kind == Aggregate.Best ? "best" : "worst";
            diagnostics.Report(scope.Source, node.Place, NumberMessages.Better(word));
            return null;
        }

        return (node.Kind == Aggregate.Best) == (better == Better.Higher)
            ? Aggregate.Highest
            : Aggregate.Lowest;
    }

    private Value Sum(List<Value> parts)
    {
        var aligned = ToOneScale(parts);
        var low = End(aligned, p => p.Low.Over);
        return Join(aligned) with
        {
            Low = low,
            High = aligned.TrueForAll(p => p.IsPoint) ? low : End(aligned, p => p.High.Over),
        };
    }

    private Ratio End(List<Value> parts, Func<Value, IntExpr> end) =>
        new(_math.Sum([.. parts.Select(p => new SumTerm(Applies(p), end(p)))]), IntMath.Number(1));

    private Value Mean(List<Value> parts)
    {
        var sum = Sum(parts);
        var count = _math.Sum([.. parts.Select(p => new SumTerm(Applies(p), IntMath.Number(1)))]);
        var under = IntMath.Most(count, IntMath.Number(1));
        var low = sum.Low with { Under = under };
        return sum with { Low = low, High = sum.IsPoint ? low : sum.High with { Under = under } };
    }

    /// <summary>Each end from the same ends of the parts: the middle rises with every one of them.</summary>
    private Value Median(List<Value> parts)
    {
        var aligned = ToOneScale(parts);
        var counts = aligned.Select(Applies).ToList();
        var median = new MedianLowering(program);
        var low = median.Lower($"{program.Scope}.median.low", [.. aligned.Select(p => p.Low.Over)], counts);
        return Join(aligned) with
        {
            Low = low,
            High = aligned.TrueForAll(p => p.IsPoint)
                ? low
                : median.Lower($"{program.Scope}.median.high", [.. aligned.Select(p => p.High.Over)], counts),
        };
    }

    private Value Extreme(List<Value> parts, bool highest)
    {
        var aligned = ToOneScale(parts);
        var low = Edge(aligned, p => p.Low.Over, highest);
        return Join(aligned) with
        {
            Low = low,
            High = aligned.TrueForAll(p => p.IsPoint) ? low : Edge(aligned, p => p.High.Over, highest),
        };
    }

    /// <summary>A part that doesn't apply takes the value that never wins.</summary>
    private static Ratio Edge(List<Value> parts, Func<Value, IntExpr> end, bool highest)
    {
        var never = IntMath.Number(highest ? parts.Min(p => end(p).Low) : parts.Max(p => end(p).High));
        var ends = parts
            .Select(p => Applies(p) is { } applies ? IntMath.Choose(applies, end(p), never) : end(p))
            .ToList();
        return new Ratio(IntMath.Balanced(ends, highest ? IntMath.Most : IntMath.Least), IntMath.Number(1));
    }

    private static BoolExpr? Applies(Value part) => part.IsAlwaysKnown ? null : Bools.Equal(part.State, 0);

    /// <summary>Blocked beats the rest; not applicable only when every part is.</summary>
    internal static Value Join(IReadOnlyList<Value> parts)
    {
        var reads = parts.SelectMany(p => p.Reads).ToHashSet(StringComparer.Ordinal);
        var better = parts.All(p => p.Better == parts[0].Better) ? parts[0].Better : Better.Unstated;
        var joined = parts[0] with { Reads = reads, Better = better, IsLiteral = false };
        if (parts.Any(p => p.IsAlwaysKnown) && parts.All(p => p.State.High <= 1))
        {
            return joined with { State = IntMath.Number(0) };
        }

        var blocked = IntMath.Balanced(
            [.. parts.Select(p => IntMath.Choose(Bools.AtMost(p.State, 1), IntMath.Number(0), p.State))],
            IntMath.Most
        );
        var none = Bools.All(parts.Select(p => Bools.Equal(p.State, (long)State.NotApplicable)));
        return joined with { State = IntMath.Choose(none, IntMath.Number(1), blocked) };
    }

    public List<Value> ToOneScale(List<Value> parts)
    {
        var scale = parts.Aggregate(parts[0].Scale, (s, p) => Rational.CommonStep(s, p.Scale));
        return [.. parts.Select(p => expressions.Math.Rescale(p, scale))];
    }

    private List<Value>? Parts(ListNode list, LoweringScope scope)
    {
        var parts = list switch
        {
            ItemsNode items => [.. items.Items.Select(i => expressions.Lower(i, scope))],
            EverySideNode side => Sides(side, scope),
            EveryTaskNode every => Every(every, scope),
            _ => throw new InvalidOperationException("An unknown kind of list."),
        };
        if (parts is null || parts.Contains(null))
        {
            return null;
        }

        var fraction = parts.FindIndex(p => !p!.IsWhole);
        if (fraction >= 0)
        {
            diagnostics.Report(
                scope.Source,
                list.Place,
                NumberMessages.Step("A value in this list", "it comes from a division")
            );
            return null;
        }

        return [.. parts.Select(p => p!)];
    }

    private List<Value?>? Sides(EverySideNode node, LoweringScope scope)
    {
        var name = node.Task.Text.Split('.');
        var task = names.Task(name[0]);
        if (task is null || task.VariantKind == VariantKind.None)
        {
            if (task is not null)
            {
                diagnostics.Report(scope.Source, node.Task.Place, NameMessages.NoSides(task.Name));
            }
            else
            {
                _ = names.Find(node.Task.Text, node.Task.Place, scope.Source);
            }

            return null;
        }

        return
        [
            .. task.Variants.Select(v =>
                expressions.Lower(new NameNode($"{node.Task.Text}.{v.Name}", node.Task.Place), scope)
            ),
        ];
    }

    private List<Value?>? Every(EveryTaskNode node, LoweringScope scope)
    {
        if (
            names.RequireSection(node.Section, scope.Source) is null
            || !work.Spend(tasks.All.Count, scope.Source, node.Place)
        )
        {
            return null;
        }

        var parts = new List<Value?>();
        var leftOut = new List<string>();
        foreach (var task in tasks.In(node.Section.Text))
        {
            var response = node.Response is null
                ? task.Responses.Count == 1
                    ? task.Responses[0]
                    : null
                : task.Responses.FirstOrDefault(r => r.Name == node.Response.Text);
            if (response is null)
            {
                if (!names.IsBroken(task.Name))
                {
                    leftOut.Add(task.Name);
                }

                continue;
            }

            foreach (var variant in task.Variants)
            {
                parts.Add(expressions.Number(names.Answer(task, response, variant.Name), node.Place, scope));
            }
        }

        // The answers of a task with a mistake are unknown, and so is what they come to.
        if (names.HasBrokenTasks(node.Section.Text))
        {
            return null;
        }

        var word = node.Response?.Text ?? "its own";
        if (parts.Count == 0)
        {
            diagnostics.Report(
                scope.Source,
                node.Place,
                MeaningMessages.NothingLeft(word, node.Section.Text)
            );
            return null;
        }

        if (leftOut.Count > 0)
        {
            diagnostics.Report(scope.Source, node.Place, MeaningMessages.LeftOut(leftOut, word));
        }

        return parts;
    }
}
