using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>Actions, the headline and claims.</summary>
internal sealed class ActionLowering(
    ProgramBuilder program,
    ConditionLowering conditions,
    BandConditions bands,
    Func<SourceText, LoweringScope> scopeOf,
    DiagnosticBag diagnostics
)
{
    private readonly List<ActionLines> _lines = [];
    private readonly Dictionary<string, Truth> _truths = new(StringComparer.Ordinal);

    public IReadOnlyList<ActionLines> Lines => _lines;

    public int Lower(IReadOnlyList<ActionLine> actions)
    {
        var symbols = new Binding.Symbols<ActionLine>("action", diagnostics);
        var declared = actions.Where(a => symbols.Declare(a.Name, a.Source, a)).ToList();
        var truths = declared.ToDictionary(a => a, a => UsesNoOther(a) ? null : TruthOf(a));
        conditions.NoOther = NoOther(declared, truths);
        foreach (var action in declared)
        {
            var truth = truths[action] ?? (UsesNoOther(action) ? TruthOf(action) : null);
            if (truth is not null)
            {
                Add(action, truth);
            }
        }

        conditions.NoOther = null;
        conditions.Actions = _truths;
        conditions.KnownActions = [.. symbols.Names];
        return _lines.Count == 0 ? -1 : Headline();
    }

    public IReadOnlyList<ClaimLines> Claims(IReadOnlyList<ClaimBlock> claims)
    {
        var lines = new List<ClaimLines>();
        foreach (var block in claims)
        {
            if (block is { Rule: null, Incomplete: true })
            {
                continue;
            }

            if (block.Rule is not { } rule)
            {
                diagnostics.Report(
                    block.Source,
                    block.Place,
                    MeaningMessages.Missing(
                        "This claim says nothing that could be proved.",
                        "Add a line under it such as: when lips-total = 0 then actions exclude no-action"
                    )
                );
                continue;
            }

            (program.Math.Exceeded, program.Scope) = (false, $"claim.{lines.Count + 1}");
            var scope = scopeOf(block.Source);
            if (
                conditions.Lower(rule.Premise, scope) is not { } premise
                || conditions.Lower(rule.Conclusion, scope) is not { } conclusion
            )
            {
                continue;
            }

            if (program.Math.Exceeded)
            {
                diagnostics.Report(block.Source, block.Place, NumberMessages.Limit("this claim"));
                continue;
            }

            var number = lines.Count + 1;
            var then = rule.Written.IndexOf(" then ", StringComparison.Ordinal);
            var claim = new Claim(
                block.Text.Text,
                then < 0 ? rule.Written : rule.Written[..then],
                then < 0 ? "" : rule.Written[(then + 6)..],
                block.Source.OriginOf(block.Place)
            );
            lines.Add(
                new ClaimLines(
                    claim,
                    program.Line($"claim.{number}.premise", premise.Surely, "the premise surely holds"),
                    program.Line($"claim.{number}.fails", conclusion.SurelyNot, "the conclusion surely fails")
                )
            );
        }

        return lines;
    }

    private static bool UsesNoOther(ActionLine action) =>
        action
            .Conditions.Select(c => c.Condition)
            .Append(action.InlineWhen)
            .Any(c => c is not null && Mentions(c));

    private static bool Mentions(ConditionNode node) =>
        node switch
        {
            NoOtherNode => true,
            AndNode both => Mentions(both.Left) || Mentions(both.Right),
            OrNode either => Mentions(either.Left) || Mentions(either.Right),
            NotNode negation => Mentions(negation.Inner),
            GroupNode group => Mentions(group.Inner),
            _ => false,
        };

    private Truth? TruthOf(ActionLine action)
    {
        var nodes = action.Conditions.Select(c => (c.Condition, c.Source)).ToList();
        if (action.InlineWhen is { } inline)
        {
            nodes.Add((inline, action.Source));
        }

        if (nodes.Count == 0 && action.Incomplete)
        {
            return null;
        }

        if (nodes.Count == 0)
        {
            diagnostics.Report(
                action.Source,
                action.Name.Place,
                MeaningMessages.Missing(
                    $"Nothing says when {action.Name.Text} applies.",
                    "Add a when line under it."
                )
            );
            return null;
        }

        (program.Math.Exceeded, program.Scope) = (false, $"action.{action.Name.Text}");
        var truths = nodes.Select(n => conditions.Lower(n.Condition, scopeOf(n.Source))).ToList();
        if (program.Math.Exceeded)
        {
            diagnostics.Report(action.Source, action.Name.Place, NumberMessages.Limit(action.Name.Text));
            return null;
        }

        return truths.Contains(null)
            ? null
            : new Truth(
                Bools.Any(truths.Select(t => t!.Surely)),
                Bools.All(truths.Select(t => t!.SurelyNot))
            );
    }

    /// <summary>
    /// Surely, when every other surely doesn't apply and no band in use is undecided or blocked; surely not, when another does.
    /// </summary>
    private Truth NoOther(List<ActionLine> actions, Dictionary<ActionLine, Truth?> truths)
    {
        var others = actions.Select(a => truths[a]).OfType<Truth>().ToList();
        var read = BandsRead(actions);
        var open = bands
            .Tables.Where(t => read is null || read.Contains(t.Table.Outcome.Name))
            .Select(t => Bools.And(bands.InUse(t), t.IsAnyOf([t.Undecided, t.Blocked])));
        return new Truth(
            Bools.And(Bools.All(others.Select(o => o.SurelyNot)), Bools.Not(Bools.Any(open))),
            Bools.Any(others.Select(o => o.Surely))
        );
    }

    /// <summary>Names whose bands the actions read; null for all of them.</summary>
    private static HashSet<string>? BandsRead(List<ActionLine> actions)
    {
        var read = new HashSet<string>(StringComparer.Ordinal);
        var all = false;
        foreach (var action in actions)
        {
            foreach (var condition in action.Conditions.Select(c => c.Condition).Append(action.InlineWhen))
            {
                Collect(condition);
            }
        }

        return all ? null : read;

        void Collect(ConditionNode? node)
        {
            switch (node)
            {
                case BandsNode:
                    all = true;
                    break;
                case IsNode isNode:
                    read.Add(isNode.Subject.Text);
                    break;
                case AndNode both:
                    Collect(both.Left);
                    Collect(both.Right);
                    break;
                case OrNode either:
                    Collect(either.Left);
                    Collect(either.Right);
                    break;
                case NotNode negation:
                    Collect(negation.Inner);
                    break;
                case GroupNode group:
                    Collect(group.Inner);
                    break;
            }
        }
    }

    private void Add(ActionLine line, Truth truth)
    {
        var name = line.Name.Text;
        var applies = program.Line(
            $"action.{name}.applies",
            truth.Surely,
            $"“{line.Title.Text}” surely applies"
        );
        var appliesNot = program.Line(
            $"action.{name}.applies-not",
            truth.SurelyNot,
            $"“{line.Title.Text}” surely doesn't apply"
        );
        var written = line.Conditions.Select(c => c.Written);
        var action = new ProtocolAction(
            name,
            line.Title.Text,
            line.Urgency,
            line.Finish,
            line.InlineWritten.Length == 0 ? [.. written] : [line.InlineWritten, .. written],
            line.Source.OriginOf(line.Name.Place)
        )
        {
            WorseOnPurpose = CutOffLowering.WorseOnPurpose(line.Worse, line.Source, diagnostics),
        };
        _truths[name] = new Truth(new LineCondition(applies), new LineCondition(appliesNot));
        _lines.Add(new ActionLines(action, applies, appliesNot));
    }

    private int Headline()
    {
        IntExpr headline = IntMath.Number(-1);
        for (var i = _lines.Count - 1; i >= 0; i--)
        {
            headline = IntMath.Choose(new LineCondition(_lines[i].AppliesLine), IntMath.Number(i), headline);
        }

        var legend = string.Join(", ", _lines.Select((l, i) => $"{i} {l.Action.Name}"));
        return program.Line("headline", headline, $"the first action that applies: {legend}, -1 none");
    }
}
