using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>
/// Which tasks are given, as lines: gates of the case history and skips for each task, stop rules and start points for
/// each section. What isn't given becomes not possible, not applicable or a credit, whatever was recorded.
/// </summary>
internal sealed class RoutingLowering
{
    private readonly ProgramBuilder _program;
    private readonly AnswerLowering _answers;
    private readonly ExpressionLowering _expressions;
    private readonly ConditionLowering _conditions;
    private readonly Declarations _declared;
    private readonly DiagnosticBag _diagnostics;
    private readonly List<RoutedPart> _parts = [];
    private readonly Dictionary<string, RoutedPart> _byKey = new(StringComparer.Ordinal);
    private readonly ILookup<string, (HistoryQuestion Question, Gate Gate)> _gates;
    private readonly Dictionary<Gate, BoolExpr> _closed = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<string, FieldValue> _history = new(StringComparer.Ordinal);
    private readonly Dictionary<string, KeptLines> _routed = new(StringComparer.Ordinal);
    private readonly List<GivingLines> _lines = [];
    private Dictionary<string, KeptLines> _kept = [];

    public RoutingLowering(
        ProgramBuilder program,
        AnswerLowering answers,
        ExpressionLowering expressions,
        ConditionLowering conditions,
        Declarations declared,
        IReadOnlyList<BoundTask> tasks,
        IReadOnlyList<HistoryQuestion> history,
        DiagnosticBag diagnostics
    )
    {
        (_program, _answers, _expressions, _conditions) = (program, answers, expressions, conditions);
        (_declared, _diagnostics) = (declared, diagnostics);
        _gates = history
            .SelectMany(q => q.Gates.SelectMany(g => g.Tasks.Select(t => (Task: t, Question: q, Gate: g))))
            .ToLookup(g => g.Task, g => (g.Question, g.Gate), StringComparer.Ordinal);
        LayHistory(history);
        var isRouted =
            _gates.Count > 0
            || tasks.Any(t => t.Skips.Count > 0)
            || declared.Sections.Values.Any(s =>
                s.Body.Exists(b =>
                    b is DifficultyLine or StartLine or GoBackLine or StopAfterLine or SkipLine
                )
            );
        foreach (var bound in isRouted ? tasks : [])
        {
            foreach (var variant in bound.Task.Variants)
            {
                var groups = bound
                    .Task.Responses.Select(r => answers.Find(bound.Task.Name, r.Name, variant.Name)!)
                    .ToList();
                var part = new RoutedPart(bound, variant, groups);
                _parts.Add(part);
                groups.ForEach(g => _byKey.TryAdd(g.Key, part));
            }
        }
    }

    /// <summary>Every task is given, whatever was answered.</summary>
    public bool IsIdle => _parts.Count == 0;

    public IReadOnlyList<GivingLines> Lines =>
        [.. _lines.OrderBy(l => l.Task.Number).ThenBy(l => l.Task.Variants.ToList().IndexOf(l.Variant))];

    /// <summary>The kept answers, those of routed tasks as they are after routing.</summary>
    public IReadOnlyList<KeptLines> Route(IReadOnlyList<KeptLines> kept)
    {
        var bySection = _parts.Where(p => p.Task.Section is not null).ToLookup(p => p.Task.Section!.Name);
        if (_parts.Count == 0)
        {
            return kept;
        }

        _kept = kept.ToDictionary(k => k.Key, StringComparer.Ordinal);
        new RoutingChecks(_declared, bySection, _diagnostics).Run();
        foreach (var part in _parts)
        {
            Settle(part, bySection);
        }

        return _routed.Count == 0 ? kept : [.. kept.Select(k => _routed.GetValueOrDefault(k.Key, k))];
    }

    private void LayHistory(IReadOnlyList<HistoryQuestion> history)
    {
        var read = history
            .Where(q => q.Gates.Count > 0)
            .Select(q => q.Name)
            .Concat(history.SelectMany(q => q.Gates).Select(g => g.Unless).OfType<string>())
            .ToHashSet(StringComparer.Ordinal);
        foreach (var question in history.Where(q => read.Contains(q.Name)))
        {
            _history[question.Name] = _answers.LayHistory(question);
        }
    }

    private void Settle(RoutedPart part, ILookup<string, RoutedPart> bySection)
    {
        if (part.IsSettled || part.IsOpen)
        {
            return;
        }

        var section = part.Task.Section;
        if (section is null || (section.Stop is null && section.StartPoints.Count == 0))
        {
            Open(part, bySection);
            Close(part, part.Why);
            return;
        }

        var all = bySection[section.Name].ToList();
        var routing = new SectionRouting(_program, _answers.Age, section, all);
        if (section.StartPoints.Count == 0)
        {
            // Up to this task: what comes later may ask about it.
            foreach (var earlier in all.TakeWhile(p => p != part).Append(part).Where(p => !p.IsSettled))
            {
                Open(earlier, bySection);
                Close(earlier, routing.Forward(earlier));
            }

            return;
        }

        foreach (var each in all)
        {
            Open(each, bySection);
        }

        foreach (var (each, why) in routing.WithStart())
        {
            Close(each, why);
        }
    }

    /// <summary>What form, gates and skips say of it.</summary>
    private void Open(RoutedPart part, ILookup<string, RoutedPart> bySection)
    {
        part.IsOpen = true;
        part.Raw = [.. part.Groups.Select(g => g.Kept!)];
        IntExpr why = IntMath.Number((long)Giving.Given);
        foreach (var (line, holds) in Skips(part, bySection).Reverse())
        {
            var code = line.Credit switch
            {
                Credit.Lowest => Giving.SkippedLowest,
                Credit.Full => Giving.SkippedFull,
                _ => Giving.SkippedOut,
            };
            why = IntMath.Choose(holds, IntMath.Number((long)code), why);
        }

        var gates = _gates[part.Task.Name].Select(g => Closed(g.Question, g.Gate)).ToList();
        why = IntMath.Choose(Bools.Any(gates), IntMath.Number((long)Giving.Closed), why);
        if (why is not Constant || part.Task.Section is { Stop: not null } or { StartPoints.Count: > 0 })
        {
            why = IntMath.Choose(
                _answers.OutsideForm(part.Task),
                IntMath.Number((long)Giving.OtherForm),
                why
            );
        }

        part.Why = _program.Name($"open.{part.Name}", why, "0 unless form, case history or a skip closes it");
    }

    private IEnumerable<(SkipLine, BoolExpr)> Skips(RoutedPart part, ILookup<string, RoutedPart> bySection)
    {
        var section = part.Task.Section is { } home ? _declared.Sections.Find(home.Name) : null;
        foreach (var line in part.Bound.Skips.Concat(section?.Body.OfType<SkipLine>() ?? []))
        {
            (_program.Math.Exceeded, _program.Scope) = (false, $"skip.{part.Name}");
            var truth = _conditions.Lower(line.Condition, ScopeOf(part, line, bySection));
            if (_program.Math.Exceeded)
            {
                _diagnostics.Report(line.Source, line.Place, NumberMessages.Limit("this skip"));
            }
            else if (truth is not null)
            {
                yield return (
                    line,
                    _program.Name($"skip.{part.Name}", truth.Surely, "the skip's condition surely holds")
                );
            }
        }
    }

    private LoweringScope ScopeOf(RoutedPart part, SkipLine line, ILookup<string, RoutedPart> bySection)
    {
        var told = false;
        return new LoweringScope(
            line.Source,
            group =>
            {
                Look(group.Task.Name, _byKey[group.Key]);
                return _expressions.KeptValue(group);
            },
            (name, place) =>
            {
                Tell(place, RoutingMessages.AheadValue(name));
                return null;
            }
        )
        {
            Recorded = group =>
            {
                Look(group.Task.Name, _byKey[group.Key]);
                return group.Kept!;
            },
            Observed = sign =>
            {
                Look(sign.Task.Name, null);
                return !told;
            },
        };

        void Look(string task, RoutedPart? read)
        {
            var other = read ?? _parts.First(p => p.Task.Name == task);
            if (other.Task.Number >= part.Task.Number)
            {
                Tell(line.Place, RoutingMessages.Ahead(part.Task.Name, task));
            }
            else if (other.IsOpen && !other.IsSettled)
            {
                Tell(line.Place, RoutingMessages.Circle(part.Task.Name, task));
            }
            else
            {
                var (exceeded, scope) = (_program.Math.Exceeded, _program.Scope);
                Settle(other, bySection);
                (_program.Math.Exceeded, _program.Scope) = (exceeded, scope);
            }
        }

        void Tell(Place place, Message message)
        {
            if (!told)
            {
                _diagnostics.Report(line.Source, place, message);
            }

            told = true;
        }
    }

    private BoolExpr Closed(HistoryQuestion question, Gate gate)
    {
        if (!_closed.TryGetValue(gate, out var closed))
        {
            closed = Bools.Equal(_history[question.Name], gate.OnYes ? 1 : 0);
            if (gate.Unless is { } unless)
            {
                closed = Bools.And(closed, Bools.Equal(_history[unless], 0));
            }

            closed = _program.Name($"closed.{question.Name}", closed, $"the case history closes {gate.What}");
            _closed[gate] = closed;
        }

        return closed;
    }

    /// <summary>Names whether and why, and puts what that makes of the answers in their place.</summary>
    private void Close(RoutedPart part, IntExpr why)
    {
        part.IsSettled = true;
        if (why is Constant || (why.High <= (long)Giving.OtherForm))
        {
            return;
        }

        var whyLine = _program.Line(
            $"why.{part.Name}",
            why,
            "0 given, 1 not on this form, 2 closed, 3 to 5 skipped, 6 below the start, 7 and 8 after the stop"
        );
        var whyValue = ProgramBuilder.Reference(whyLine, why);
        var given = new LineCondition(
            _program.Line($"given.{part.Name}", Bools.Equal(whyValue, 0), $"{part.Name} is given")
        );
        _lines.Add(new GivingLines(part.Task, part.Variant, given.Line, whyLine));
        _answers.LeaveOutSigns(
            part.Task,
            part.Variant,
            Bools.Or(
                Bools.Equal(whyValue, (long)Giving.OtherForm),
                Bools.AtLeast(whyValue, (long)Giving.SkippedOut)
            )
        );
        for (var i = 0; i < part.Groups.Count; i++)
        {
            Route(part.Groups[i], part.Raw[i], given, whyValue);
        }
    }

    private void Route(AnswerGroup group, KeptAnswer raw, LineCondition given, LineValue why)
    {
        var (lowest, highest) = raw.Steps is { } steps
            ? (steps.Low, steps.High)
            : Encoding.Bounds(group.Response);
        var name = $"routed.{group.Key}";
        var ends = Ends.Of(group.Response, raw.Steps);
        var state = IntMath.Choose(
            given,
            raw.State,
            Case(why, code => (long)StateOf(code, ends is not null))
        );
        var low = IntMath.Choose(given, raw.Low, Case(why, code => Credited(code, ends) ?? lowest));
        var high = IntMath.Choose(given, raw.High, Case(why, code => Credited(code, ends) ?? highest));
        var stateLine = _program.Line(
            $"{name}.state",
            state,
            "0 answered or credited, 1 not applicable, 2 to 8 untried"
        );
        var lowLine = _program.Line($"{name}.low", low, "what counts, or the least it could be");
        var highLine = _program.Line($"{name}.high", high, "what counts, or the most it could be");
        group.Kept = new KeptAnswer(
            ProgramBuilder.Reference(stateLine, state),
            ProgramBuilder.Reference(lowLine, low),
            ProgramBuilder.Reference(highLine, high)
        )
        {
            Steps = raw.Steps,
        };
        var outCodes = Codes(why)
            .Where(c => c != Giving.OtherForm && StateOf(c, ends is not null) == State.NotApplicable)
            .Select(c => Bools.Equal(why, (long)c))
            .ToList();
        group.LeftOut = outCodes.Count == 0 ? null : Bools.Any(outCodes);
        _answers.MayLeaveOut |= outCodes.Count > 0;
        _routed[group.Key] = _kept[group.Key] with
        {
            StateLine = stateLine,
            LowLine = lowLine,
            HighLine = highLine,
        };
    }

    private static IEnumerable<Giving> Codes(LineValue why) =>
        Enum.GetValues<Giving>().Where(c => c != Giving.Given && (long)c <= why.High);

    private static IntExpr Case(LineValue why, Func<Giving, long> value) =>
        IntMath.Pick(
            why,
            [
                .. Enum.GetValues<Giving>()
                    .Where(c => (long)c <= why.High)
                    .Select(c => new PickCase((long)c, (long)c, value(c))),
            ]
        );

    private static State StateOf(Giving code, bool hasEnds) =>
        code switch
        {
            Giving.Closed => State.NotPossible,
            Giving.SkippedLowest
            or Giving.SkippedFull
            or Giving.BelowStart
            or Giving.StoppedLowest when hasEnds => State.Known,
            _ => State.NotApplicable,
        };

    private static long? Credited(Giving code, (long Poorest, long Best)? ends) =>
        code switch
        {
            Giving.SkippedLowest or Giving.StoppedLowest => ends?.Poorest,
            Giving.SkippedFull or Giving.BelowStart => ends?.Best,
            _ => null,
        };
}
