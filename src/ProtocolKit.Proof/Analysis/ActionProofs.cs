using ProtocolKit.Model;

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
            if (results.Search.Find(part, [results.Program.HeadlineLine], Asked.Are(-1)) is not { } witness)
            {
                continue;
            }

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
        for (var i = 0; i < actions.Count; i++)
        {
            var action = i;
            var leads = results.AllParts.Any(p =>
                results.Search.Exists(p, [results.Program.HeadlineLine], Asked.Are(action))
            );
            if (leads)
            {
                continue;
            }

            var applies = results.AllParts.Any(p =>
                results.Search.Exists(p, [actions[action].AppliesLine], Asked.Are(1))
            );
            var name = actions[i].Action.Name;
            results.Findings.Add(
                applies
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
}
