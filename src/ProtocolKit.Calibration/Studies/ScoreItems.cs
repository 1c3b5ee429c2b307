using ProtocolKit.Model;

namespace ProtocolKit.Calibration.Studies;

/// <summary>One item of a score: a kept answer with points, or a score that the score adds up.</summary>
/// <param name="Value">Its points in a record; null while it isn't exactly known.</param>
internal sealed record ScoreItem(string Label, double Low, double High, Func<StudySitting, double?> Value);

/// <summary>A score's items, and the children whose items are all known.</summary>
internal sealed class ScoreItems
{
    private ScoreItems(Outcome outcome, IReadOnlyList<ScoreItem> items, IReadOnlyList<StudySitting> children)
    {
        (Outcome, Items, Children) = (outcome, items, children);
        Complete = [.. children.Where(c => items.All(i => i.Value(c) is not null))];
        Rows = [.. Complete.Select(c => items.Select(i => i.Value(c)!.Value).ToArray())];
    }

    public Outcome Outcome { get; }
    public IReadOnlyList<ScoreItem> Items { get; }
    public IReadOnlyList<StudySitting> Children { get; }

    /// <summary>Children with every item known.</summary>
    public IReadOnlyList<StudySitting> Complete { get; }

    /// <summary>A row each complete child, a column each item.</summary>
    public IReadOnlyList<double[]> Rows { get; }

    /// <summary>Null where the score has fewer than two items that carry points of their own.</summary>
    public static ScoreItems? Of(Protocol protocol, Outcome outcome, IReadOnlyList<StudySitting> children)
    {
        var lines = protocol.Program.Outcomes.First(o => o.Outcome.Name == outcome.Name);
        var parts = Components(protocol, outcome);
        var items =
            parts.Count > 1
                ? parts
                :
                [
                    .. ProgramReads
                        .Of(protocol.Program, lines)
                        .Where(k => !k.Response.HasOptions)
                        .Select(Answer),
                ];
        return items.Count < 2 ? null : new ScoreItems(outcome, items, children);
    }

    /// <summary>Scores named in the formula, where a score adds up scores.</summary>
    private static IReadOnlyList<ScoreItem> Components(Protocol protocol, Outcome outcome)
    {
        var words = outcome.Formula.Split(
            [' ', ',', '(', ')', '+', '*', '/'],
            StringSplitOptions.RemoveEmptyEntries
        );
        return
        [
            .. protocol
                .Outcomes.Where(o => o.Name != outcome.Name && words.Contains(o.Name))
                .Select(o => new ScoreItem(
                    o.Title,
                    Figures.ToDouble(o.Low),
                    Figures.ToDouble(o.High),
                    sitting => ScoreValues.Exact(sitting, o)
                )),
        ];
    }

    private static ScoreItem Answer(KeptLines kept) =>
        new(
            AgreementItems.Label(kept),
            Figures.ToDouble(kept.Response.Low),
            Figures.ToDouble(kept.Response.High),
            sitting => Points(sitting, kept)
        );

    /// <summary>The kept answer's points or number; null unless it is known.</summary>
    public static double? Points(StudySitting sitting, KeptLines kept)
    {
        if ((State)sitting.Scored.Lines[kept.StateLine] != State.Known)
        {
            return null;
        }

        var steps = sitting.Scored.Lines[kept.LowLine];
        var response = kept.Response;
        return Figures.ToDouble(
            response.Kind == ResponseKind.Rating
                ? response.Scale!.Levels[response.Scale.Levels.Count - 1 - (int)steps].Points
                : steps * response.Step
        );
    }
}
