using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A program beside another reading of one of its tasks: its lines stay as they are, and what names the task names the new one.
/// </summary>
/// <param name="anew">With the same answers, signs and sides as the old one.</param>
internal sealed class ProgramTasks(ProtocolTask old, ProtocolTask anew)
{
    public ScoringProgram Replace(ScoringProgram program) =>
        program with
        {
            Answers = Each(
                program.Answers,
                a => a.Task,
                a =>
                    a with
                    {
                        Key = Of(a.Key),
                        Task = anew,
                        Response = Of(a.Response),
                        Variant = Of(a.Variant),
                    }
            ),
            Observations = Each(
                program.Observations,
                o => o.Task,
                o => o with { Key = Of(o.Key), Task = anew, Variant = Of(o.Variant) }
            ),
            Kept = Each(
                program.Kept,
                k => k.Task,
                k =>
                    k with
                    {
                        Key = Of(k.Key),
                        Task = anew,
                        Response = Of(k.Response),
                        Variant = Of(k.Variant),
                    }
            ),
            Giving = Each(program.Giving, g => g.Task, g => g with { Task = anew, Variant = Of(g.Variant) }),
            Outcomes = program.Outcomes.Any(o => o.Sides is not null)
                ? [.. program.Outcomes.Select(o => o.Sides is { } sides ? o with { Sides = In(sides) } : o)]
                : program.Outcomes,
        };

    private SideLines In(SideLines sides) =>
        sides with
        {
            Tasks = Each(sides.Tasks, t => t.Task, t => t with { Task = anew }),
        };

    /// <summary>A key begins with the task's name.</summary>
    private string Of(string key) => old.Name == anew.Name ? key : anew.Name + key[old.Name.Length..];

    private Response Of(Response response) => anew.Responses.First(r => r.Name == response.Name);

    private Variant Of(Variant variant) => anew.Variants.First(v => v.Name == variant.Name);

    private IReadOnlyList<T> Each<T>(IReadOnlyList<T> all, Func<T, ProtocolTask> taskOf, Func<T, T> replace)
    {
        T[]? copy = null;
        for (var i = 0; i < all.Count; i++)
        {
            if (ReferenceEquals(taskOf(all[i]), old))
            {
                copy ??= [.. all];
                copy[i] = replace(all[i]);
            }
        }

        return copy ?? all;
    }
}
