using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Measures and scores, each when first needed: unit and step checked, rounded once, named as lines.
/// </summary>
internal sealed class OutcomeLowering(
    ProgramBuilder program,
    ExpressionLowering expressions,
    Declarations declared,
    AnswerLowering answers,
    AgeRange? ages,
    WorkLimit work,
    DiagnosticBag diagnostics
)
{
    private readonly Dictionary<string, (Outcome Outcome, Value Value)?> _done = new(StringComparer.Ordinal);
    private readonly List<string> _open = [];
    private readonly List<OutcomeLines> _lines = [];
    private readonly OutcomeValues _values = new(program, expressions, answers, ages, diagnostics);

    public IReadOnlyList<OutcomeLines> Lines => _lines;
    public IEnumerable<Outcome> Outcomes => _lines.Select(l => l.Outcome);

    /// <summary>Measures and scores other rules asked for.</summary>
    public ReadLog<string> Read { get; } = new(StringComparer.Ordinal);

    /// <summary>One was worked out on the way to another, so that their lines stand among each other.</summary>
    public bool IsNested { get; private set; }

    public void Lower(OutcomeBlock block) => _ = Lower(block, block.Source, block.Name.Place);

    /// <summary>
    /// One of them anew, for those that come after it; null after reporting. What was handed out stays as it was.
    /// </summary>
    /// <param name="old">Its name before.</param>
    public OutcomeLines? Again(string old, OutcomeBlock block, Undo undo)
    {
        var made = _lines.Count;
        Forget(old, undo);
        undo.Add(() => _done.Remove(block.Name.Text));
        Lower(block);
        var lines = _lines.Count > made ? _lines[made] : null;
        _lines.RemoveRange(made, _lines.Count - made);
        return lines;
    }

    /// <summary>Before it is lowered anew, or where it is gone.</summary>
    public void Forget(string name, Undo undo)
    {
        var before = _done[name];
        undo.Add(() => _done[name] = before);
        _values.Forget(name, undo);
        _done.Remove(name);
    }

    /// <summary>What other rules know of it; null where it had a mistake.</summary>
    public (Outcome Outcome, Value Value)? Known(string name) => _done.GetValueOrDefault(name);

    /// <summary>The value of a measure or score, or null after reporting.</summary>
    public Value? ValueOf(string name, Place place, SourceText source)
    {
        if (declared.Values.Find(name) is not OutcomeBlock block)
        {
            return null;
        }

        Read.Add(name);
        return Lower(block, source, place)?.Value;
    }

    /// <summary>What conditions say of the weaker side; null where the name is no side difference that could be worked out.</summary>
    public SideTruths? SidesOf(string name) => _values.SidesOf(name);

    public Outcome? Find(string name) => _done.TryGetValue(name, out var found) ? found?.Outcome : null;

    /// <summary>A measure worked out for one trial, rounded to its step, that a trial can be kept by.</summary>
    public Value? ForTrial(OutcomeBlock block, int trial, Func<AnswerGroup, bool> isOwn)
    {
        if (ValueLineOf(block) is not var (node, _))
        {
            return null;
        }

        var reads = new Reads(answers);
        program.Scope = $"{block.Name.Text}.trial-{trial}";
        var scope = new LoweringScope(
            block.Source,
            group =>
            {
                if (!isOwn(group))
                {
                    diagnostics.Report(
                        block.Source,
                        block.Name.Place,
                        MeaningMessages.Trials(
                            $"Trials are kept by {block.Name.Text}, but it reads {group.Key}, which is another task's.",
                            "Keep by a measure of this task's own answers."
                        )
                    );
                }

                reads.Add(group);
                return expressions.TrialValue(group, TrialOf(group));
            },
            (name, place) =>
            {
                diagnostics.Report(
                    block.Source,
                    place,
                    MeaningMessages.Trials(
                        $"Trials are kept by {block.Name.Text}, but it reads {name}.",
                        "Keep by a measure that reads this task's answers only."
                    )
                );
                return null;
            }
        )
        {
            Recorded = group =>
            {
                reads.Add(group);
                var given = group.Trials[TrialOf(group) - 1];
                return new KeptAnswer(given.State, given.Value, given.Value);
            },
        };
        return expressions.Lower(node, scope) is { } value && Finish(block, value) is var (finished, _, _)
            ? finished with
            {
                Reads = reads.Keys,
            }
            : null;

        // Another task, which was told of, may have fewer trials.
        int TrialOf(AnswerGroup group) => Math.Min(trial, group.Trials.Length);
    }

    private (Outcome Outcome, Value Value)? Lower(OutcomeBlock block, SourceText source, Place place)
    {
        var name = block.Name.Text;
        if (_done.TryGetValue(name, out var known))
        {
            return known;
        }

        if (_open.Contains(name, StringComparer.Ordinal))
        {
            var path = string.Join(", then ", _open.SkipWhile(n => n != name).Append(name));
            diagnostics.Report(source, place, MeaningMessages.Circle(path));
            return null;
        }

        IsNested |= _open.Count > 0;
        _open.Add(name);
        var result = Build(block);
        _open.Remove(name);
        _done[name] = result;
        return result;
    }

    private (Outcome Outcome, Value Value)? Build(OutcomeBlock block)
    {
        if (ValueLineOf(block) is not var (node, written))
        {
            return null;
        }

        var (outerExceeded, outerScope) = (program.Math.Exceeded, program.Scope);
        (program.Math.Exceeded, program.Scope) = (false, block.Name.Text);
        var result = Build(block, node, written);
        (program.Math.Exceeded, program.Scope) = (outerExceeded, outerScope);
        return result;
    }

    private (Outcome Outcome, Value Value)? Build(OutcomeBlock block, ExpressionNode node, string written)
    {
        var policy = UntriedPolicies.Of(block, diagnostics);
        var reads = new Reads(answers);
        var scope = new LoweringScope(
            block.Source,
            group =>
            {
                reads.Add(group);
                return expressions.KeptValue(group);
            },
            (name, place) => ValueOf(name, place, block.Source) is { } value ? reads.Add(name, value) : null
        )
        {
            Recorded = group =>
            {
                reads.Add(group);
                return group.Kept!;
            },
        };
        if (_values.Lower(block, node, policy, scope, Find) is not { } made)
        {
            return null;
        }

        if (!work.Spend(reads.Keys.Count, block.Source, block.Name.Place))
        {
            return null;
        }

        var lowered = made.Value with { Reads = reads.Keys };
        if (policy.Kind == UntriedPolicy.Blocks)
        {
            lowered = Block(lowered, reads);
        }

        if (Finish(block, lowered, made.ScaledUp is not null) is not var (value, unit, step))
        {
            return null;
        }

        value = made.ScaledUp?.Within(value) ?? value;

        if (step is null && node is AggregateNode { Kind: Aggregate.Mean or Aggregate.Median } aggregate)
        {
            Report(
                block,
                block.Name.Place,
                NumberMessages.Step(
                    block.Name.Text,
                    aggregate.Kind == Aggregate.Mean
                        ? "a mean can fall between any two numbers"
                        : "the middle of an even number of values can fall between two of them"
                )
            );
        }

        CheckClaims(block, value);
        var (lines, named) = OutcomeNaming.Name(program, block, written, value, unit, step);
        lines = lines with
        {
            Outcome = lines.Outcome with
            {
                Table = made.Lookup?.Table,
                SidesAgree = made.Sides is null ? null : SideBinder.AgreeOf(block),
                Untried = policy.Kind,
                ScaledUpAtMost = policy.AtMost,
            },
            ScaledUp = made.ScaledUp?.Lines,
            Sides = made.Sides,
        };
        _lines.Add(lines);
        return (lines.Outcome, named);
    }

    /// <summary>
    /// Blocked by any untried answer, also one that only a condition reads, and by any score beneath that is bounded.
    /// What is left when known is one value.
    /// </summary>
    private Value Block(Value value, Reads reads)
    {
        var reason = program.Name(
            $"{program.Scope}.untried",
            reads.Reason(),
            "the gravest reason why an answer is missing"
        );

        // A sign nobody looked for has no code, but it leaves a value open all the same.
        var exact = Bools.And(
            Bools.Equal(value.Low.Over, value.High.Over),
            Bools.Equal(value.Low.Under, value.High.Under)
        );
        var open = IntMath.Choose(exact, IntMath.Number(0), IntMath.Number((long)State.NotPlanned));
        var known = IntMath.Choose(Bools.AtMost(reason, 1), IntMath.Most(value.State, open), reason);
        return value with { High = value.Low, State = known };
    }

    private (ExpressionNode Node, string Written)? ValueLineOf(OutcomeBlock block)
    {
        if (OutcomeValues.WithoutFormula(block) is { } made)
        {
            return made;
        }

        var lines = block.Body.OfType<ValueLine>().ToList();
        if (block.InlineValue is { } inline)
        {
            if (lines.Count > 0)
            {
                diagnostics.Clash(lines[0].At, block.At, MeaningMessages.LineTwice("value"));
            }

            return (inline, block.InlineWritten);
        }

        if (lines.Count > 1)
        {
            diagnostics.Clash(lines[1].At, lines[0].At, MeaningMessages.LineTwice("value"));
        }

        if (lines.Count == 0)
        {
            if (!block.Incomplete)
            {
                Report(
                    block,
                    block.Name.Place,
                    MeaningMessages.Missing(
                        $"{block.Name.Text} has no value.",
                        "Write one under it, such as: add up rate of every task in …"
                    )
                );
            }

            return null;
        }

        return (lines[0].Value, lines[0].Written);
    }

    /// <param name="isRounded">Rounded where no step is stated too: to the step of its answers.</param>
    private (Value Value, Unit Unit, Rational? Step)? Finish(
        OutcomeBlock block,
        Value value,
        bool isRounded = false
    )
    {
        var unit = value.Unit;
        if (block.Unit is not null)
        {
            if (Units.Bind(block.Unit, block.Source, diagnostics) is not { } wanted)
            {
                return null;
            }

            if (wanted.Dimension != unit.Dimension && !(value.IsLiteral && unit.IsPure))
            {
                Report(block, block.Unit.Place, NumberMessages.WrongUnit(unit.ToString(), wanted.ToString()));
                return null;
            }

            value = value with { Unit = wanted, Scale = value.Scale * (unit.Factor / wanted.Factor) };
            unit = wanted;
        }

        var step = block.Step?.Number ?? (isRounded ? value.Scale : null);
        if (step is { Sign: <= 0 })
        {
            Report(
                block,
                block.Step!.Place,
                NumberMessages.Number("A step must be larger than zero.", "Write a step such as 0.1 or 1.")
            );
            return null;
        }

        if (step is { } grid)
        {
            value = expressions.Math.ToStep(value, grid);
        }
        else if (value.IsWhole)
        {
            step = value.Scale;
        }

        if (program.Math.Exceeded)
        {
            program.Math.Exceeded = false;
            Report(block, block.Name.Place, NumberMessages.Limit(block.Name.Text));
            return null;
        }

        return (value, unit, step);
    }

    private void CheckClaims(OutcomeBlock block, Value value)
    {
        foreach (var claim in block.Body.OfType<ClaimRangeLine>())
        {
            if (claim.Range.From.Number is not { } low || claim.Range.To.Number is not { } high)
            {
                continue;
            }

            if (low < value.Least || high > value.Greatest || low > high)
            {
                Report(
                    claim,
                    claim.Range.Place,
                    NumberMessages.RangeClaim(block.Name.Text, $"{value.Least} to {value.Greatest}")
                );
            }
        }
    }

    private void Report(Statement statement, Place place, Message message) =>
        diagnostics.Report(statement.Source, place, message);
}
