using ProtocolKit.Language.Binding;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>Whether two readings of a task differ only in words that no rule reads.</summary>
internal static class SameTask
{
    /// <summary>True where the core program of one is that of the other.</summary>
    public static bool ForRules(BoundTask a, BoundTask b) =>
        a.KeepBy?.Text == b.KeepBy?.Text
        && a.Skips.Count == 0
        && b.Skips.Count == 0
        && !a.Task.HelpHasCost()
        && Without(a.Task, b.Task) == b.Task
        && Same(a.Task.Variants, b.Task.Variants, (x, y) => x.Name == y.Name)
        && Same(a.Task.Responses, b.Task.Responses, ForRules)
        && Same(a.Task.Ticks, b.Task.Ticks, (x, y) => x == y)
        && Same(a.Task.Help, b.Task.Help, (x, y) => x == y);

    /// <summary>A task with the other's words. A property that is not named here has to be the same.</summary>
    private static ProtocolTask Without(ProtocolTask task, ProtocolTask other) =>
        task with
        {
            Title = other.Title,
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
