using ProtocolKit.Language.Binding;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>Whether two readings of a task differ only in words that no rule reads.</summary>
internal static class SameTask
{
    /// <summary>True where the core program of one is that of the other.</summary>
    public static bool ForRules(BoundTask a, BoundTask b) =>
        ForFields(a, b)
        && a.KeepBy?.Text == b.KeepBy?.Text
        && a.Task.Trials == b.Task.Trials
        && Same(a.Task.Responses, b.Task.Responses, ForRules);

    /// <summary>
    /// True where a record holds the same answers and signs of both in the same places, though their limits, steps and options
    /// may differ, and which trial is kept.
    /// </summary>
    public static bool ForFields(BoundTask a, BoundTask b) =>
        a.Skips.Count == 0
        && b.Skips.Count == 0
        && !a.Task.HelpHasCost()
        && !b.Task.HelpHasCost()
        && Without(a.Task, b.Task) == b.Task
        && a.Task.Trials.Count == b.Task.Trials.Count
        && a.Task.Trials.IsCombined == b.Task.Trials.IsCombined
        && Same(a.Task.Variants, b.Task.Variants, (x, y) => x.Name == y.Name)
        && Same(a.Task.Responses, b.Task.Responses, (x, y) => x.Name == y.Name)
        && Same(a.Task.Ticks, b.Task.Ticks, (x, y) => x == y);

    /// <summary>
    /// True where nothing that is asked of all tasks together, beside rules, has another answer: what they touch may decide in
    /// which order they are given and at which events.
    /// </summary>
    public static bool ForOrder(BoundProtocol bound, BoundTask a, BoundTask b) =>
        a.Task.Contact == b.Task.Contact
        || (bound.Declared.Orders.Count == 0 && bound.Protocol.Events.Count == 0);

    /// <summary>True where <see cref="CareChecks"/> find the same of both, as long as rules read the same of them.</summary>
    public static bool ForCare(BoundTask a, BoundTask b) =>
        a.Block.Name.Place == b.Block.Name.Place
        && a.Task.Contact == b.Task.Contact
        && a.Task.Help.SequenceEqual(b.Task.Help)
        && a.Task.Materials.Select(m => m.Name).SequenceEqual(b.Task.Materials.Select(m => m.Name))
        && Same(
            a.Task.Responses,
            b.Task.Responses,
            (x, y) => x.Name == y.Name && x.Qualitative == y.Qualitative
        )
        && Same(a.Task.Ticks, b.Task.Ticks, (x, y) => x == y);

    /// <summary>A task with the other's words. A property that is not named here has to be the same.</summary>
    private static ProtocolTask Without(ProtocolTask task, ProtocolTask other) =>
        task with
        {
            Title = other.Title,
            Contact = other.Contact,
            Trials = other.Trials,
            Materials = other.Materials,
            Go = other.Go,
            Practice = other.Practice,
            Repeat = other.Repeat,
            Hold = other.Hold,
            StopWhen = other.StopWhen,
            Note = other.Note,
            Origin = other.Origin,
            Variants = other.Variants,
            Responses = other.Responses,
            Ticks = other.Ticks,
            Help = other.Help,
            Skips = other.Skips,
        };

    private static bool ForRules(Response a, Response b) =>
        (a with { Question = b.Question, Options = b.Options, Origin = b.Origin }) == b
        && a.Unit.Symbol == b.Unit.Symbol
        && Same(a.Options, b.Options, (x, y) => x.Name == y.Name);

    private static bool Same<T>(IReadOnlyList<T> a, IReadOnlyList<T> b, Func<T, T, bool> isSame)
    {
        if (a.Count != b.Count)
        {
            return false;
        }

        for (var i = 0; i < a.Count; i++)
        {
            if (!isSame(a[i], b[i]))
            {
                return false;
            }
        }

        return true;
    }
}
