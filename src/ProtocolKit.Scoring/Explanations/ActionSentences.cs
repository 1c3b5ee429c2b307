using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Says of each action whether it applies and why, or why that is open.</summary>
internal sealed class ActionSentences(ScoredRecord scored)
{
    private const string NoOther = "no other action applies";

    private readonly BandReasons _bands = new(scored);

    public List<Explained> All() =>
        [.. scored.Actions.Select(a => new Explained(a.Action.Name, Sentence(a)))];

    private string Sentence(ActionResult result)
    {
        var title = ResultSentences.Title(result.Action);
        return result.Decision switch
        {
            Decision.Applies => $"{title}: applies, {Why(result.Action)}.",
            Decision.Undecided => $"{title}: undecided, {WhyOpen(result.Action)}.",
            _ => $"{title}: does not apply.",
        };
    }

    private string Why(ProtocolAction action)
    {
        if (action.Conditions.Contains(NoOther))
        {
            return "as no other action does";
        }

        var met = action.Conditions.Select(_bands.Read).Where(r => r is { Holds: true }).ToList();
        return met.Count > 0
            ? $"as {_bands.Say(met.SelectMany(r => r!.Bands))}"
            : $"by its rule: {Rules(action)}";
    }

    private string WhyOpen(ProtocolAction action)
    {
        if (action.Conditions.Contains(NoOther))
        {
            return "as another action is undecided";
        }

        var open = action.Conditions.Select(_bands.Read).Where(r => r is { Open.Count: > 0 }).ToList();
        return open.Count > 0
            ? $"as {_bands.Say(open.SelectMany(r => r!.Open))}"
            : $"as too little is known for its rule: {Rules(action)}";
    }

    private static string Rules(ProtocolAction action) =>
        ProtocolKit.Scoring.Say.List(action.Conditions.Select(c => $"when {c}"), "or");
}
