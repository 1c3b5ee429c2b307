using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>What an expression is lowered with: the kept trials by default, or one trial, or untried blocking.</summary>
/// <param name="Answer">The value of an answer.</param>
/// <param name="Outcome">The value of a measure or score; null after reporting.</param>
internal sealed record LoweringScope(
    SourceText Source,
    Func<AnswerGroup, Value> Answer,
    Func<string, Place, Value?> Outcome
)
{
    public Guards Guards { get; init; } = Guards.None;

    /// <summary>Told of each observation that is asked about; false where it may not be.</summary>
    public Func<Target.OfObservation, bool> Observed { get; init; } = _ => true;

    /// <summary>State and ends of an answer as recorded, for questions such as <c>is refused</c> or <c>is one-lower</c>.</summary>
    public Func<AnswerGroup, KeptAnswer> Recorded { get; init; } = group => group.Kept!;
}

/// <summary>Surface expressions into values with state and both ends. Gives null after reporting.</summary>
internal sealed class ExpressionLowering(
    ProgramBuilder program,
    NameLookup names,
    TaskIndex tasks,
    AnswerLowering answers,
    WorkLimit work,
    DiagnosticBag diagnostics
)
{
    private readonly ValueMath _math = new(program);

    /// <summary>Conditions inside <c>if</c>; set once both exist.</summary>
    public ConditionLowering? Conditions { get; set; }

    public ValueMath Math => _math;

    /// <summary>A kept answer as a value: an untried one ranges over its bounds.</summary>
    public Value KeptValue(AnswerGroup group)
    {
        var kept = group.Kept!;
        var state = answers.MayBeAbsent(group)
            ? IntMath.Choose(
                Bools.Equal(kept.State, (long)State.NotApplicable),
                IntMath.Number(1),
                IntMath.Number(0)
            )
            : IntMath.Number(0);
        return kept.Steps is { } steps
            ? Stepped(group, state, kept, steps.Step)
            : AnswerValue(group, state, kept.Low, kept.High);
    }

    private static Value Stepped(AnswerGroup group, IntExpr state, KeptAnswer kept, Rational step) =>
        new()
        {
            State = state,
            Low = new Ratio(kept.Low, IntMath.Number(1)),
            High = new Ratio(kept.High, IntMath.Number(1)),
            Scale = step,
            Unit = group.Response.Unit,
            Better = group.Response.Better,
            Reads = group.Keys,
        };

    /// <summary>An answer at one trial, taken as given.</summary>
    public Value TrialValue(AnswerGroup group, int trial)
    {
        var field = group.Trials[trial - 1].Value;
        return AnswerValue(group, IntMath.Number(0), field, field);
    }

    public Value? Lower(ExpressionNode node, LoweringScope scope) =>
        node switch
        {
            NumberNode number => Number(number, scope),
            NameNode name => Name(name, scope),
            BinaryNode binary => Binary(binary, scope),
            NegateNode negate => Lower(negate.Inner, scope) is { } inner ? _math.Negate(inner) : null,
            CallNode call => Call(call, scope),
            IfNode choice => If(choice, scope),
            AggregateNode aggregate => Aggregates().Lower(aggregate, scope),
            _ => throw new InvalidOperationException("An unknown kind of expression."),
        };

    /// <summary>The parts of a sum on one scale, or null after reporting.</summary>
    public List<Value>? PartsOf(AggregateNode node, LoweringScope scope) => Aggregates().PartsOf(node, scope);

    /// <summary>Values in one unit on one scale, or null after reporting.</summary>
    public List<Value>? ToOneScale(List<Value> parts, Place place, SourceText source) =>
        Aggregates().Matched(parts, place, source) is { } matched ? Aggregates().ToOneScale(matched) : null;

    public SideBinder Sides(DiagnosticBag bag) => new(tasks, names, bag);

    /// <summary>The answer of this name, or null after reporting.</summary>
    public AnswerGroup? FindAnswer(string name, Place place, SourceText source) =>
        (names.Find(name, place, source) as Target.OfAnswer)?.Group;

    private AggregateLowering Aggregates() => new(program, this, names, tasks, work, diagnostics);

    /// <summary>Both values in one unit, or null after reporting.</summary>
    public (Value Left, Value Right)? Match(
        Value left,
        Value right,
        string what,
        Place place,
        SourceText source
    )
    {
        if (left.Unit.Equals(right.Unit) || IsFree(left) || IsFree(right))
        {
            return (left, right);
        }

        if (left.IsLiteral || right.IsLiteral)
        {
            var (bare, other) = left.IsLiteral ? (left, right) : (right, left);
            if (bare.Unit.IsPure)
            {
                Report(
                    source,
                    bare.WrittenAt.Length > 0 ? bare.WrittenAt : place,
                    NumberMessages.BareNumber(bare.Least.ToString(), other.Unit.ToString())
                );
                return null;
            }
        }

        Report(source, place, NumberMessages.Unit(what, left.Unit.ToString(), right.Unit.ToString()));
        return null;
    }

    private Value AnswerValue(AnswerGroup group, IntExpr state, IntExpr low, IntExpr high)
    {
        var response = group.Response;
        if (response.Kind == ResponseKind.Rating)
        {
            (low, high) = ReferenceEquals(low, high)
                ? Twice(Encoding.Points(response, low, program.Math))
                : (
                    Encoding.Points(response, low, program.Math),
                    Encoding.Points(response, high, program.Math)
                );
        }

        var one = IntMath.Number(1);
        return new Value
        {
            State = state,
            Low = new Ratio(low, one),
            High = new Ratio(high, one),
            Scale = response.Step,
            Unit = response.Unit,
            Better = response.Better,
            Reads = group.Keys,
        };
    }

    private static (IntExpr, IntExpr) Twice(IntExpr value) => (value, value);

    /// <summary>Zero is zero in any unit.</summary>
    private static bool IsFree(Value value) =>
        value.IsLiteral && value.Unit.IsPure && value.Least == 0 && value.Greatest == 0;

    private Value? Number(NumberNode node, LoweringScope scope)
    {
        var value = Value.Of(node.Value, program.Math) with { WrittenAt = node.Place };
        if (node.Unit is null)
        {
            return value;
        }

        return Units.Bind(node.Unit, scope.Source, diagnostics) is { } unit
            ? value with
            {
                Unit = unit,
            }
            : null;
    }

    private Value? Name(NameNode node, LoweringScope scope)
    {
        switch (names.Find(node.Name, node.Place, scope.Source))
        {
            case Target.OfObservation:
                Report(scope.Source, node.Place, NumberMessages.NotANumber(node.Name, "seen"));
                return null;
            case Target.OfAnswer answer:
                return Number(answer.Group, node.Place, scope, node.Name);
            case Target.OfOutcome outcome:
                return scope.Outcome(outcome.Name, node.Place);
            default:
                return null;
        }
    }

    /// <summary>An answer as a number, or null after reporting.</summary>
    /// <param name="name">As it is written; null: its key.</param>
    public Value? Number(AnswerGroup group, Place place, LoweringScope scope, string? name = null)
    {
        if (!group.Response.HasOptions)
        {
            return scope.Answer(group);
        }

        Report(
            scope.Source,
            place,
            NumberMessages.NotANumber(name ?? group.Key, group.Response.Options[0].Name)
        );
        return null;
    }

    private Value? Binary(BinaryNode node, LoweringScope scope)
    {
        var left = Lower(node.Left, scope);
        var right = Lower(node.Right, scope);
        if (left is null || right is null)
        {
            return null;
        }

        return node.Operator switch
        {
            Operator.Times => Times(node, left, right, scope),
            Operator.Over => Over(node, left, right, scope),
            _ => PlusOrMinus(node, left, right, scope),
        };
    }

    private Value? PlusOrMinus(BinaryNode node, Value left, Value right, LoweringScope scope)
    {
        if (
            Match(left, right, "These can't be added or subtracted", node.Place, scope.Source)
            is not var (a, b)
        )
        {
            return null;
        }

        return node.Operator == Operator.Plus ? _math.Add(a, b) : _math.Subtract(a, b);
    }

    private Value? Times(BinaryNode node, Value left, Value right, LoweringScope scope)
    {
        var product = _math.Multiply(left, right);
        if (product is null)
        {
            Report(
                scope.Source,
                node.Place,
                NumberMessages.Step("This product", "both its parts are fractions that may be negative")
            );
        }

        return product;
    }

    private Value? Over(BinaryNode node, Value left, Value right, LoweringScope scope)
    {
        if (right.Least.Sign > 0 || right.Greatest.Sign < 0)
        {
            return _math.Divide(left, right);
        }

        // A guard on the same name makes the branch safe; the divisor itself is bounded, because a target may
        // work out both branches.
        var guarded = right.IsWhole ? scope.Guards.LeastOf(node.Right, right.Scale) : null;
        if (guarded is { Sign: > 0 } least)
        {
            var floor = program.Math.Number((least / right.Scale).Numerator);
            var low = new Ratio(IntMath.Most(right.Low.Over, floor), right.Low.Under);
            var high = right.IsPoint
                ? low
                : new Ratio(IntMath.Most(right.High.Over, floor), right.High.Under);
            return _math.Divide(left, right with { Low = low, High = high });
        }

        var divisor = node.Right is NameNode name ? name.Name : "What is divided by here";
        Report(scope.Source, node.Right.Place, NumberMessages.Zero(divisor, ZeroFix(node.Right, right)));
        return null;
    }

    private static string? ZeroFix(ExpressionNode node, Value value) =>
        node is NameNode name && value.Least == 0
            ? $"Let {name.Name} begin at {value.Scale}, or guard the line: if {name.Name} > 0 then … otherwise …"
            : null;

    private Value? Call(CallNode node, LoweringScope scope)
    {
        var first = Lower(node.First, scope);
        var second = Lower(node.Second, scope);
        if (
            first is null
            || second is null
            || Match(first, second, "These can't be compared", node.Place, scope.Source) is not var (a, b)
        )
        {
            return null;
        }

        return node.IsLeast ? _math.Smaller(a, b) : _math.Larger(a, b);
    }

    private Value? If(IfNode node, LoweringScope scope)
    {
        var condition = Conditions!.Lower(node.If, scope);
        var yes = Lower(node.Then, scope with { Guards = scope.Guards.With(node.If, holds: true) });
        var no = Lower(node.Otherwise, scope with { Guards = scope.Guards.With(node.If, holds: false) });
        if (
            condition is null
            || yes is null
            || no is null
            || Match(
                yes,
                no,
                "The two values of this if can't stand for each other",
                node.Place,
                scope.Source
            )
                is not var (a, b)
        )
        {
            return null;
        }

        // Where what is asked about doesn't apply, there is nothing to choose by.
        var chosen = _math.Choose(condition.Surely, condition.SurelyNot, a, b);
        var asked = program.Small(condition.State);
        return chosen with
        {
            State = IntMath.Choose(Bools.Equal(asked, 0), chosen.State, asked),
            Reads = chosen.Reads.Concat(condition.Reads).ToHashSet(StringComparer.Ordinal),
        };
    }

    private void Report(SourceText source, Place place, Message message) =>
        diagnostics.Report(source, place, message);
}
