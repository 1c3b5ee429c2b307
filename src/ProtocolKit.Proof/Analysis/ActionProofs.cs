using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Analysis;

/// <summary>Every action can be reached, each is somewhere the first, and every record has one (R19).</summary>
internal static class ActionProofs
{
    public static void Run(ProofResults results)
    {
        if (results.Program.Actions.Count == 0)
        {
            return;
        }

        var origin = results.Program.Actions[0].Action.Origin;
        var found = results.Findings.Count;
        var isProved = results.Try("That every record has an action", origin, () => None(results));
        if (isProved && results.Findings.Count == found)
        {
            results.Holds(ProofTopic.Actions, "Every record, complete or not, has at least one action.");
        }

        results.Try("That every action is reached", origin, () => Reached(results));
    }

    private static void None(ProofResults results)
    {
        foreach (var part in results.AllParts)
        {
            int[] lines = [results.Program.HeadlineLine];
            var reach = results.Questions.Ask(part, lines);
            var row = reach.Smallest(r => reach.Value(r, 0) == -1);
            if (row < 0)
            {
                continue;
            }

            var witness = results.Questions.Witness(part, reach, row, lines);
            var fix =
                part.Untried && !results.Program.Actions.Any(a => a.Action.Finish)
                    ? "Add an action marked finish for records that can't be decided yet, such as: when any band is undecided"
                    : "Add an action for such a record, or let one of the others apply.";
            results.Findings.Add(
                new ProofFinding(
                    ProofKind.NoAction,
                    results.Program.Actions[^1].Action.Origin,
                    part.Untried
                        ? $"A record with an untried answer can end without any action{results.Where(part)}."
                        : $"A complete record can end without any action{results.Where(part)}.",
                    fix,
                    [results.Sitting(part, witness, results.Banded())]
                )
            );
            return;
        }
    }

    private static void Reached(ProofResults results)
    {
        var actions = results.Program.Actions;
        var applies = new bool[actions.Count];
        var leads = new bool[actions.Count];
        foreach (var part in results.AllParts)
        {
            var headline = results.Questions.Ask(part, results.Program.HeadlineLine);
            for (var row = 0; row < headline.Count; row++)
            {
                if (headline.Value(row, 0) is >= 0 and var first)
                {
                    leads[first] = applies[first] = true;
                }
            }
        }

        for (var i = 0; i < actions.Count; i++)
        {
            if (leads[i])
            {
                continue;
            }

            applies[i] = results.AllParts.Any(p => Can(results, p, actions[i].AppliesLine));
            var name = actions[i].Action.Name;
            results.Findings.Add(
                applies[i]
                    ? new ProofFinding(
                        ProofKind.NeverHeadline,
                        actions[i].Action.Origin,
                        $"{name} is never the headline: whenever it applies, a more severe action applies too.",
                        "Nothing to do where that is meant.",
                        []
                    )
                    : new ProofFinding(
                        ProofKind.UnreachableAction,
                        actions[i].Action.Origin,
                        $"No record brings {name}.",
                        "Correct its condition, or remove it.",
                        []
                    )
            );
        }
    }

    private static bool Can(ProofResults results, Part part, int line)
    {
        var reach = results.Questions.Ask(part, line);
        return reach.Any(r => reach.Value(r, 0) == 1);
    }
}
