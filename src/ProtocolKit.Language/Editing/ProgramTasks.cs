using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A program beside other readings of some of its tasks: its lines stay as they are, and what names a task names the new one.
/// </summary>
/// <param name="anew">By task, as the program holds it: one with the same answers, signs and sides.</param>
internal sealed class ProgramTasks(IReadOnlyDictionary<ProtocolTask, ProtocolTask> anew)
{
    public ProgramTasks(ProtocolTask old, ProtocolTask anew)
        : this(
            new Dictionary<ProtocolTask, ProtocolTask>(ReferenceEqualityComparer.Instance) { [old] = anew }
        ) { }

    public ScoringProgram Replace(ScoringProgram program) =>
        program with
        {
            Answers = Each(
                program.Answers,
                a => a.Task,
                (a, to) =>
                    a with
                    {
                        Key = KeyOf(a.Key, a.Task, to),
                        Task = to,
                        Response = Of(a.Response, to),
                        Variant = Of(a.Variant, to),
                    }
            ),
            Observations = Each(
                program.Observations,
                o => o.Task,
                (o, to) => o with { Key = KeyOf(o.Key, o.Task, to), Task = to, Variant = Of(o.Variant, to) }
            ),
            Kept = Each(
                program.Kept,
                k => k.Task,
                (k, to) =>
                    k with
                    {
                        Key = KeyOf(k.Key, k.Task, to),
                        Task = to,
                        Response = Of(k.Response, to),
                        Variant = Of(k.Variant, to),
                    }
            ),
            Giving = Each(
                program.Giving,
                g => g.Task,
                (g, to) => g with { Task = to, Variant = Of(g.Variant, to) }
            ),
            Outcomes = program.Outcomes.Any(o => o.Sides is not null)
                ? [.. program.Outcomes.Select(o => o.Sides is { } sides ? o with { Sides = In(sides) } : o)]
                : program.Outcomes,
        };

    private SideLines In(SideLines sides) =>
        sides with
        {
            Tasks = Each(sides.Tasks, t => t.Task, (t, to) => t with { Task = to }),
        };

    /// <summary>A key begins with the task's name.</summary>
    private static string KeyOf(string key, ProtocolTask old, ProtocolTask to) =>
        old.Name == to.Name ? key : to.Name + key[old.Name.Length..];

    private static Response Of(Response response, ProtocolTask to) =>
        to.Responses.First(r => r.Name == response.Name);

    private static Variant Of(Variant variant, ProtocolTask to) =>
        to.Variants.First(v => v.Name == variant.Name);

    private IReadOnlyList<T> Each<T>(
        IReadOnlyList<T> all,
        Func<T, ProtocolTask> taskOf,
        Func<T, ProtocolTask, T> replace
    )
    {
        T[]? copy = null;
        for (var i = 0; i < all.Count; i++)
        {
            if (anew.TryGetValue(taskOf(all[i]), out var to))
            {
                copy ??= [.. all];
                copy[i] = replace(all[i], to);
            }
        }

        return copy ?? all;
    }
}
