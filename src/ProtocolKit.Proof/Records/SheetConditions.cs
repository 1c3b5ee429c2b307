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
        foreach (var task in slots.GroupBy(a => (a.Task.Name, a.Variant.Name)))
        {
            var answers = task.ToList();
            if (answers[0].Task.Trials is { FurtherWhen: { } rule, Count: > 1 })
            {
                Further(answers, rule, found);
            }
        }

        return found;
    }

    private void Further(List<AnswerSlot> answers, FurtherTrial rule, List<(int, Node)> found)
    {
        var needless = graph.Zero;
        for (var trial = 2; trial <= answers[0].Task.Trials.Count; trial++)
        {
            if (
                answers.Find(a => a.Trial == trial - 1 && a.Response.Name == rule.Response) is not { } decides
            )
            {
                return;
            }

            var known = graph.Equal(space.Fields[decides.StateField], graph.Zero);
            var below = graph.AtMost(
                space.Fields[decides.ValueField],
                graph.Constant(Limit(decides.Response, rule.Below) - 1)
            );
            needless = graph.Either([needless, graph.Both([known, graph.Not(below)])]);
            var due = graph.Both([known, below]);
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
                found.Add((space.Leaves[space.LeafOf(answer.StateField)].Task, fits));
            }
        }
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
