using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper.Cards;

/// <summary>The cards that belong to no task: what to take care of, and the codes.</summary>
internal static class GeneralCards
{
    /// <summary>What each code means, said for somebody with a child in front of them.</summary>
    private static readonly Dictionary<State, string> Meanings = new Dictionary<State, string>
    {
        [State.Refused] = "refused: the child says no, or turns away from the task.",
        [State.NotUnderstood] = "not understood: said and shown as the card allows, and still not grasped.",
        [State.NotPossible] =
            "not possible: something about today stands in the way, such as a plaster or a cold.",
        [State.Stopped] = "stopped for welfare: ended, or left out, for the child’s sake.",
        [State.OutOfTime] = "out of time: the sitting was over before it came to this.",
        [State.Spoiled] = "spoiled: noise, an interruption, a timer that failed.",
        [State.NotPlanned] = "not planned: was never meant to be given in this sitting.",
    };

    public static IReadOnlyList<CardBlock> Cautions(Protocol protocol)
    {
        Duty[] duties =
        [
            Duties.Agreement,
            Duties.StopSigns,
            Duties.Hygiene,
            Duties.NothingLoose,
            Duties.Rest,
            Duties.Gates,
            Duties.ReferToday,
            Duties.Languages,
            Duties.Postpone,
            Duties.Consent,
            Duties.WhoGives,
            Duties.NoDiagnosis,
            Duties.NonSpeech,
        ];
        var texts = duties
            .Select(d => d.In(protocol))
            .Concat(Duties.OtherGeneral(protocol).Select(c => c.Text));
        return texts.Select(text => CardTexts.Item(CardMetrics.Dash, text)).ToList();
    }

    public static IReadOnlyList<CardBlock> Codes() =>
        States
            .Untried.Zip(UntriedCodes.All, (u, view) => CardTexts.Item(view.Letter, Meanings[u.State]))
            .ToList();

    public static IReadOnlyList<CardBlock> RulesOfCodes() =>
        [
            CardTexts.Line("Tried, with no movement at all:", "that is the lowest level, never a code."),
            CardTexts.Line("Nothing to rate:", "circle one code. Leave nothing blank."),
            CardTexts.Line("A further trial that was not needed", "stays empty."),
            CardTexts.Line("Seen, not:", "tick one where you looked. Not looked: leave both empty."),
            CardTexts.Line("Help used:", "circle the highest rung. What is rated is what came without help."),
            CardTexts.Line("After a W", "write what happened, what touched the child and what was done."),
        ];
}
