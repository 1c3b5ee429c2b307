using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>The giving order: the file's, by contact, or by hand.</summary>
internal static class OrderBinder
{
    public static List<BoundTask> Order(
        List<BoundTask> tasks,
        Declarations declared,
        DiagnosticBag diagnostics
    )
    {
        if (declared.Orders.Count > 1)
        {
            var second = declared.Orders[1];
            diagnostics.Clash(second.At, declared.Orders[0].At, MeaningMessages.LineTwice("giving order"));
        }

        var order = declared.Orders.FirstOrDefault();
        IEnumerable<BoundTask> ordered = tasks;
        if (order is { ByContact: true })
        {
            ordered = tasks.OrderBy(t => t.Task.Contact);
        }
        else if (order is not null)
        {
            ordered = ByHand(order, tasks, declared, diagnostics);
        }

        return
        [
            .. ordered.Select(
                (t, i) => t.Task.Number == i + 1 ? t : t with { Task = t.Task with { Number = i + 1 } }
            ),
        ];
    }

    private static List<BoundTask> ByHand(
        GivingOrderBlock order,
        List<BoundTask> tasks,
        Declarations declared,
        DiagnosticBag diagnostics
    )
    {
        var byName = tasks.ToDictionary(t => t.Task.Name, StringComparer.Ordinal);
        var bySection = tasks.ToLookup(t => t.Task.Section?.Name ?? "", StringComparer.Ordinal);
        var ordered = new List<BoundTask>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var line in order.Lines)
        {
            foreach (var name in line.Names)
            {
                var named = byName.TryGetValue(name.Text, out var one)
                    ? [one]
                    : bySection[name.Text].ToList();
                if (named.Count == 0 && !declared.Values.IsBroken(name.Text))
                {
                    var known = byName.Keys.Concat(declared.Sections.Names);
                    diagnostics.Report(
                        line.Source,
                        name.Place,
                        NameMessages.Unknown(
                            "task or section",
                            name.Text,
                            diagnostics.Nearest(name.Text, known)
                        )
                    );
                }

                foreach (var task in named)
                {
                    if (seen.Add(task.Task.Name))
                    {
                        ordered.Add(task);
                    }
                    else
                    {
                        diagnostics.Report(
                            line.Source,
                            name.Place,
                            MeaningMessages.OrderedTwice(task.Task.Name)
                        );
                    }
                }
            }
        }

        var missing = tasks.Where(t => !seen.Contains(t.Task.Name)).ToList();
        if (missing.Count > 0 && !order.Incomplete && !diagnostics.HasErrorOn(order.Source, order.Place.Line))
        {
            diagnostics.Report(
                order.Source,
                order.Place,
                MeaningMessages.Missing(
                    $"The giving order leaves out {string.Join(", ", missing.Take(8).Select(t => t.Task.Name))}.",
                    "Name every task once, by itself or by its section."
                )
            );
        }

        return [.. ordered, .. missing];
    }
}
