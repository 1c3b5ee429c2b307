using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>A three-valued condition as two: it surely holds, it surely doesn't. Neither: undecided.</summary>
internal sealed record Truth(BoolExpr Surely, BoolExpr SurelyNot)
{
    private static readonly HashSet<string> NoReads = [];

    /// <summary>
    /// Whether what is asked about applies at all: 0 it does, 1 none of it does, 2 to 8 it is blocked. A value that
    /// depends on the condition takes this over.
    /// </summary>
    public IntExpr State { get; init; } = IntMath.Number(0);

    /// <summary>Keys of the answers it rests on.</summary>
    public IReadOnlySet<string> Reads { get; init; } = NoReads;

    public static Truth TwoValued(BoolExpr condition) => new(condition, Bools.Not(condition));

    public Truth Negated => this with { Surely = SurelyNot, SurelyNot = Surely };

    /// <summary>Both conditions' states and reads; what doesn't apply is passed over while anything does.</summary>
    public Truth Over(Truth a, Truth b)
    {
        var none = Bools.And(Bools.Equal(a.State, 1), Bools.Equal(b.State, 1));
        var gravest = IntMath.Most(Passed(a.State), Passed(b.State));
        return this with
        {
            State = IntMath.Choose(none, IntMath.Number(1), gravest),
            Reads = a.Reads.Concat(b.Reads).ToHashSet(StringComparer.Ordinal),
        };
    }

    private static IntExpr Passed(IntExpr state) =>
        state.High <= 1 ? IntMath.Number(0) : IntMath.Choose(Bools.Equal(state, 1), IntMath.Number(0), state);
}

/// <summary>
/// Conditions in strong Kleene logic, without guessing completions. A value that is not applicable makes a
/// comparison fail; an undecided or blocked one leaves it undecided.
/// </summary>
internal sealed class ConditionLowering(
    ExpressionLowering expressions,
    NameLookup names,
    BandConditions bands,
    AnswerLowering answers,
    Declarations declared,
    DiagnosticBag diagnostics
)
{
    /// <summary>Actions by name, for claims; null where none may be named yet.</summary>
    public IReadOnlyDictionary<string, Truth>? Actions { get; set; }

    /// <summary>All actions declared, also those with a mistake in their conditions.</summary>
    public IReadOnlyList<string> KnownActions { get; set; } = [];

    /// <summary>Gives <c>no other action applies</c> its meaning; null where it has none.</summary>
    public Truth? NoOther { get; set; }

    /// <summary>What is known of the sides of a side difference; set once measures can be worked out.</summary>
    public Func<string, SideTruths?>? SidesOf { get; set; }

    public Truth? Lower(ConditionNode node, LoweringScope scope)
    {
        switch (node)
        {
            case GroupNode group:
                return Lower(group.Inner, scope);
            case NotNode negation:
                return Lower(negation.Inner, scope)?.Negated;
            case AndNode both:
                CheckMixed(both.Left, both.Right, scope, isAnd: true);
                return Join(Lower(both.Left, scope), Lower(both.Right, scope), isAnd: true);
            case OrNode either:
                CheckMixed(either.Left, either.Right, scope, isAnd: false);
                return Join(Lower(either.Left, scope), Lower(either.Right, scope), isAnd: false);
            case CompareNode compare:
                return Compare(compare, scope);
            case BandsNode count:
                return bands.Count(count, scope.Source);
            case IsNode isNode:
                return Is(isNode, scope);
            case WeakerNode weaker:
                return Weaker(weaker, scope);
            case NoOtherNode:
                return NoOther ?? Misplaced(node, scope, "“no other action applies” belongs in an action.");
            case ActionsNode action:
                return Action(action, scope);
            default:
                throw new InvalidOperationException("An unknown kind of condition.");
        }
    }

    private void CheckMixed(ConditionNode left, ConditionNode right, LoweringScope scope, bool isAnd)
    {
        if (isAnd ? left is OrNode || right is OrNode : left is AndNode || right is AndNode)
        {
            diagnostics.Report(scope.Source, left.Place.To(right.Place), MeaningMessages.Mixed());
        }
    }

    private static Truth? Join(Truth? a, Truth? b, bool isAnd)
    {
        if (a is null || b is null)
        {
            return null;
        }

        var joined = isAnd
            ? new Truth(Bools.And(a.Surely, b.Surely), Bools.Or(a.SurelyNot, b.SurelyNot))
            : new Truth(Bools.Or(a.Surely, b.Surely), Bools.And(a.SurelyNot, b.SurelyNot));
        return joined.Over(a, b);
    }

    private Truth? Compare(CompareNode node, LoweringScope scope)
    {
        var left = expressions.Lower(node.Left, scope);
        var right = expressions.Lower(node.Right, scope);
        if (
            left is null
            || right is null
            || expressions.Match(left, right, "These can't be compared", node.Place, scope.Source)
                is not var (a, b)
        )
        {
            return null;
        }

        var known = Bools.And(Bools.Equal(a.State, 0), Bools.Equal(b.State, 0));
        var state = IntMath.Most(a.State, b.State);
        var missing = Bools.Equal(state, (long)State.NotApplicable);
        var truth = node.How switch
        {
            Comparison.AtMost => AtMost(a, b),
            Comparison.Less => AtMost(b, a).Negated,
            Comparison.AtLeast => AtMost(b, a),
            Comparison.Greater => AtMost(a, b).Negated,
            Comparison.Equal => Equal(a, b),
            _ => Equal(a, b).Negated,
        };
        return new Truth(Bools.And(known, truth.Surely), Bools.Or(missing, Bools.And(known, truth.SurelyNot)))
        {
            State = state,
            Reads = a.Reads.Concat(b.Reads).ToHashSet(StringComparer.Ordinal),
        };
    }

    private Truth AtMost(Value a, Value b) =>
        new(
            expressions.Math.AtMost(a.High, a.Scale, b.Low, b.Scale),
            Bools.Not(expressions.Math.AtMost(a.Low, a.Scale, b.High, b.Scale))
        );

    private Truth Equal(Value a, Value b)
    {
        var (below, above) = (AtMost(a, b), AtMost(b, a));
        return new Truth(Bools.And(below.Surely, above.Surely), Bools.Or(below.SurelyNot, above.SurelyNot));
    }

    private Truth? Is(IsNode node, LoweringScope scope)
    {
        switch (names.Find(node.Subject.Text, node.Subject.Place, scope.Source))
        {
            case Target.OfOutcome outcome:
                if (scope.Outcome(outcome.Name, node.Subject.Place) is not { } value)
                {
                    return null;
                }

                return bands.OfOutcome(outcome.Name, value, node, scope.Source);
            case Target.OfAnswer answer:
                return Option(node, answer.Group, scope);
            case Target.OfObservation observation:
                return Observation(node, observation, scope);
            default:
                return null;
        }
    }

    private Truth? Weaker(WeakerNode node, LoweringScope scope)
    {
        if (declared.Values.Require(node.Name, scope.Source) is not { } statement)
        {
            return null;
        }

        if (statement is not OutcomeBlock { Sides: not null })
        {
            diagnostics.Report(
                scope.Source,
                node.Name.Place,
                ScoreMessages.Sides(
                    $"{node.Name.Text} is no side difference, so it has no weaker side.",
                    "Name a side difference."
                )
            );
            return null;
        }

        if (
            scope.Outcome(node.Name.Text, node.Name.Place) is not { } value
            || SidesOf?.Invoke(node.Name.Text) is not { } sides
        )
        {
            return null;
        }

        var truth = node
            .Sides.Select(w => Weaker(w.Text, sides))
            .Aggregate((a, b) => Join(a, b, isAnd: false)!);
        return truth with { State = sides.Left.State, Reads = value.Reads };
    }

    private static Truth Weaker(string word, SideTruths sides)
    {
        var isOut = Bools.Equal(sides.Weaker, (long)WeakerSide.NotApplicable);
        return word switch
        {
            "left" => sides.Left,
            "right" => sides.Right,
            "neither" => new Truth(
                Bools.And(Bools.Not(isOut), Bools.And(sides.Left.SurelyNot, sides.Right.SurelyNot)),
                Bools.Or(isOut, Bools.Or(sides.Left.Surely, sides.Right.Surely))
            ),
            "undecided" => Truth.TwoValued(Bools.Equal(sides.Weaker, (long)WeakerSide.Undecided)),
            _ => Truth.TwoValued(isOut),
        };
    }

    private Truth? Option(IsNode node, AnswerGroup group, LoweringScope scope)
    {
        var word = node.What.Words[0];
        var kept = scope.Recorded(group);
        if (node.What.Words.Count == 1 && word.Text == "untried")
        {
            return Truth.TwoValued(Bools.AtLeast(kept.State, (long)State.NotPlanned));
        }

        var options = group.Response.Options.Select(o => o.Name).ToList();
        var index = options.IndexOf(word.Text);
        if (index < 0 || node.What.Words.Count > 1 || node.What.Reach != Reach.Exactly)
        {
            diagnostics.Report(
                scope.Source,
                word.Place,
                options.Count == 0
                    ? NameMessages.NoBands(node.Subject.Text)
                    : NameMessages.Part(node.Subject.Text, word.Text, options)
            );
            return null;
        }

        var known = Bools.Equal(kept.State, 0);
        var same = Bools.Equal(kept.Low, index);
        var truth = new Truth(Bools.And(known, same), Bools.And(known, Bools.Not(same)));
        return truth with
        {
            SurelyNot = Bools.Or(truth.SurelyNot, Bools.Equal(kept.State, (long)State.NotApplicable)),
            State = scope.Answer(group).State,
            Reads = new HashSet<string>(StringComparer.Ordinal) { group.Key },
        };
    }

    private Truth? Observation(IsNode node, Target.OfObservation target, LoweringScope scope)
    {
        if (!scope.Observed(target))
        {
            return null;
        }

        var absent = answers.NotLookedFor(target.Task, target.Field);
        var seen = new Truth(
            Bools.And(Bools.Not(absent), Bools.Equal(target.Field, 2)),
            Bools.Or(absent, Bools.Equal(target.Field, 1))
        )
        {
            State = IntMath.Choose(absent, IntMath.Number(1), IntMath.Number(0)),
        };
        switch (node.What.Words[0].Text)
        {
            case "seen":
                return seen;
            case "not seen":
                return seen.Negated;
            case "not looked":
                return Truth.TwoValued(Bools.And(Bools.Not(absent), Bools.Equal(target.Field, 0)));
            default:
                diagnostics.Report(
                    scope.Source,
                    node.What.Words[0].Place,
                    NameMessages.Part(
                        node.Subject.Text,
                        node.What.Words[0].Text,
                        ["seen", "not seen", "not looked"]
                    )
                );
                return null;
        }
    }

    private Truth? Action(ActionsNode node, LoweringScope scope)
    {
        if (Actions is null)
        {
            return Misplaced(node, scope, "Only claims speak of actions.");
        }

        if (!Actions.TryGetValue(node.Action.Text, out var truth))
        {
            var message = NameMessages.UnknownOf("action", node.Action.Text, KnownActions);
            var isForgiven = declared.MayMissActions || declared.HasBroken("actions") || !declared.AllFound;
            if (
                !KnownActions.Contains(node.Action.Text, StringComparer.Ordinal)
                && (!isForgiven || message.Edit is not null)
            )
            {
                diagnostics.Report(scope.Source, node.Action.Place, message);
            }

            return null;
        }

        return node.Include ? truth : truth.Negated;
    }

    private Truth? Misplaced(ConditionNode node, LoweringScope scope, string why)
    {
        diagnostics.Report(
            scope.Source,
            node.Place,
            MeaningMessages.Missing(why, "Move it, or ask about a value.")
        );
        return null;
    }
}
