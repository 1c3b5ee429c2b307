using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>The value of a measure or score before it is rounded, with what is kept of how it came about.</summary>
internal sealed record MadeValue(Value Value)
{
    public ScaledUpSum? ScaledUp { get; init; }
    public BoundLookup? Lookup { get; init; }
    public SideLines? Sides { get; init; }
}

/// <summary>The ways a measure or score gets its value: a formula, a sum that is scaled up, a table, the two sides.</summary>
internal sealed class OutcomeValues(
    ProgramBuilder program,
    ExpressionLowering expressions,
    AnswerLowering answers,
    AgeRange? ages,
    DiagnosticBag diagnostics
)
{
    private readonly ScaledUpSums _scaledUp = new(program, expressions, answers, diagnostics);
    private readonly Dictionary<string, SideTruths> _sides = new(StringComparer.Ordinal);

    public SideTruths? SidesOf(string name) => _sides.GetValueOrDefault(name);

    /// <summary>Before a side difference is worked out anew.</summary>
    public void Forget(string name, Undo undo)
    {
        if (_sides.Remove(name, out var before))
        {
            undo.Add(() => _sides[name] = before);
        }
    }

    /// <summary>What stands in for the formula, where the statement has none of its own.</summary>
    public static (ExpressionNode Node, string Written)? WithoutFormula(OutcomeBlock block)
    {
        if (block.Lookup is { } table)
        {
            return (new NameNode(table.Of.Text, table.Of.Place), $"table of {table.Of.Text}");
        }

        if (block.Sides is not { } sides)
        {
            return null;
        }

        var what = sides.Answers.Count == 0 ? "" : ", " + sides.Answers[0].Written;
        return (new NameNode(block.Name.Text, block.Name.Place), "left minus right" + what);
    }

    /// <param name="find">A measure or score that is worked out already.</param>
    /// <returns>Null after reporting.</returns>
    public MadeValue? Lower(
        OutcomeBlock block,
        ExpressionNode node,
        BoundPolicy policy,
        LoweringScope scope,
        Func<string, Outcome?> find
    )
    {
        if (block.Sides is not null)
        {
            return Sides(block, scope);
        }

        if (policy.Kind == UntriedPolicy.ScaledUp)
        {
            return _scaledUp.Lower(block, node, policy, scope, out var sum) is { } scaled
                ? new MadeValue(scaled) { ScaledUp = sum }
                : null;
        }

        if (expressions.Lower(node, scope) is not { } value)
        {
            return null;
        }

        return block.Lookup is null ? new MadeValue(value) : LookUp(block, value, find);
    }

    private MadeValue? LookUp(OutcomeBlock block, Value value, Func<string, Outcome?> find)
    {
        var of = block.Lookup!.Of;
        if (find(of.Text) is not { } raw)
        {
            Report(block, of.Place, NameMessages.NotHere(of.Text, "a task", "a measure or score"));
            return null;
        }

        if (raw.Step is null || !value.IsWhole)
        {
            Report(block, of.Place, NumberMessages.Step(raw.Name, "it is looked up in a table"));
            return null;
        }

        var unit = block.Unit is null ? Unit.One : Units.Bind(block.Unit, block.Source, diagnostics);
        var lookup = new LookupBinder(ages, diagnostics).Bind(block, raw.Title, value);
        return lookup is null || unit is null
            ? null
            : new MadeValue(new LookupLowering(program, answers).Lower(lookup, value, unit))
            {
                Lookup = lookup,
            };
    }

    private MadeValue? Sides(OutcomeBlock block, LoweringScope scope)
    {
        if (expressions.Sides(diagnostics).Bind(block) is not { } bound)
        {
            return null;
        }

        var parts = new List<Value>();
        foreach (var side in bound.Where(b => !b.IsDirection))
        {
            foreach (var name in new[] { "left", "right" })
            {
                var node = new NameNode($"{side.Task.Name}.{side.Response.Name}.{name}", side.Place);
                if (expressions.Lower(node, scope) is not { } value)
                {
                    return null;
                }

                parts.Add(value);
            }
        }

        if (expressions.ToOneScale(parts, block.Sides!.Answers[0].Place, block.Source) is not { } aligned)
        {
            return null;
        }

        var sided = bound
            .Where(b => !b.IsDirection)
            .Select((b, i) => (b, aligned[2 * i], aligned[(2 * i) + 1]))
            .ToList();
        var directions = bound.Where(b => b.IsDirection).SelectMany(b => Directions(b, scope)).ToList();
        var (difference, lines, truths) = new SideLowering(program, answers).Lower(
            sided,
            directions,
            SideBinder.AgreeOf(block)
        );
        _sides[block.Name.Text] = truths;
        return new MadeValue(difference) { Sides = lines };
    }

    private IEnumerable<(BoundSide, AnswerGroup)> Directions(BoundSide side, LoweringScope scope)
    {
        foreach (var variant in side.Task.Variants)
        {
            var end = variant.Name.Length == 0 ? "" : "." + variant.Name;
            var name = $"{side.Task.Name}.{side.Response.Name}{end}";
            if (expressions.FindAnswer(name, side.Place, scope.Source) is { } group)
            {
                // Asked for, so that the value is known to rest on it.
                _ = scope.Recorded(group);
                yield return (side, group);
            }
        }
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
