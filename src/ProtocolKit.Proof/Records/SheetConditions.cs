using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Records;

/// <summary>
/// What must hold between the parts of a sheet: a further trial is there when it is due and blank when it is needless (R10);
/// after an untried trial it may be either.
/// </summary>
internal sealed class SheetConditions(RecordSpace space, Graph graph)
{
    public IReadOnlyList<(int Task, Node Condition)> All()
    {
        var found = new List<(int, Node)>();
        var slots = space.Protocol.Program.Answers.Where(a => space.LeafOf(a.StateField) >= 0);
        var given = space.Protocol.Program.Giving.ToDictionary(
            g => (g.Task.Name, g.Variant.Name),
            g => space.Lines.Line(g.GivenLine)
        );
        foreach (var task in slots.GroupBy(a => (a.Task.Name, a.Variant.Name)))
        {
            Answers([.. task], given.GetValueOrDefault(task.Key, graph.One), found);
        }

        foreach (var sign in space.Protocol.Program.Observations.Where(o => space.LeafOf(o.Field) >= 0))
        {
            var looked = graph.Not(graph.Equal(space.Fields[sign.Field], graph.Zero));
            if (given.TryGetValue((sign.Task.Name, sign.Variant.Name), out var when))
            {
                var may = space.HasUntried ? graph.Not(looked) : graph.Zero;
                var fits = graph.Choose(when, graph.Either([looked, may]), graph.Not(looked));
                found.Add((space.Leaves[space.LeafOf(sign.Field)].Task, fits));
            }
        }

        return found;
    }

    private void Answers(List<AnswerSlot> answers, Node given, List<(int, Node)> found)
    {
        var rule = answers[0].Task.Trials.FurtherWhen;
        var needless = graph.Zero;
        var task = space.Leaves[space.LeafOf(answers[0].StateField)].Task;
        for (var trial = 1; trial <= answers[0].Task.Trials.Count; trial++)
        {
            var due = graph.One;
            if (trial > 1 && rule is not null)
            {
                (needless, due) = After(answers, trial, rule, needless);
            }

            foreach (var answer in answers.Where(a => a.Trial == trial))
            {
                var blank = graph.Equal(
                    space.Fields[answer.StateField],
                    graph.Constant((long)State.NotApplicable)
                );
                var fits = graph.Both([
                    graph.Either([graph.Not(needless), blank]),
                    graph.Not(graph.Both([due, graph.Not(needless), blank])),
                ]);
                found.Add((task, graph.Choose(given, fits, blank)));
            }
        }
    }

    /// <summary>Whether a further trial is needless, and whether it is due, from the one before.</summary>
    private (Node Needless, Node Due) After(
        List<AnswerSlot> answers,
        int trial,
        FurtherTrial rule,
        Node needless
    )
    {
        if (answers.Find(a => a.Trial == trial - 1 && a.Response.Name == rule.Response) is not { } decides)
        {
            return (needless, graph.One);
        }

        var known = graph.Equal(space.Fields[decides.StateField], graph.Zero);
        var below = graph.AtMost(
            space.Fields[decides.ValueField],
            graph.Constant(Limit(decides.Response, rule.Below) - 1)
        );
        return (graph.Either([needless, graph.Both([known, graph.Not(below)])]), graph.Both([known, below]));
    }

    /// <summary>How many values of the field, counted from 0, lie below a number of points or units.</summary>
    internal static long Limit(Response response, Rational below)
    {
        if (response.Scale is { } scale)
        {
            return scale.Levels.Count(l => l.Points < below);
        }

        var steps = below / response.Step;
        var whole = BigInteger.DivRem(steps.Numerator, steps.Denominator, out var rest);
        return (long)(rest.Sign > 0 ? whole + 1 : whole);
    }
}
