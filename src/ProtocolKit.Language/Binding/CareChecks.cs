using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>Whether a bound protocol can be given safely and keeps what it asks.</summary>
internal sealed class CareChecks(
    IReadOnlyList<BoundTask> tasks,
    VocabularyBinder vocabulary,
    Declarations declared,
    NameLookup names,
    DiagnosticBag diagnostics
)
{
    private readonly HashSet<Contact> _covered = [.. vocabulary.Cautions.SelectMany(c => c.Contacts)];
    private readonly HashSet<string> _needed = NeededBy(tasks);

    private static HashSet<string> NeededBy(IReadOnlyList<BoundTask> tasks)
    {
        var needed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var task in tasks)
        {
            foreach (var material in task.Task.Materials)
            {
                needed.Add(material.Name);
            }
        }

        return needed;
    }

    /// <summary>
    /// What nothing needs, reads or covers is told only where all lines could be understood: the line that needs it may
    /// be the one with a mistake.
    /// </summary>
    public void Run()
    {
        var complete = !diagnostics.HasErrors;
        var cautionsKnown =
            declared.AllFound
            && !declared.HasBroken("caution")
            && !declared.Cautions.Values.Any(c => c.Incomplete);
        foreach (var task in tasks)
        {
            if (cautionsKnown)
            {
                Touch(task);
            }

            NoAnswer(task);
            if (complete)
            {
                Answers(task);
            }
        }

        if (complete)
        {
            Materials();
            Cautions();
        }
    }

    private void Touch(BoundTask bound)
    {
        if (!HasUncovered(bound.Task))
        {
            return;
        }

        var touches = bound
            .Task.Help.Select(h => h.Contact)
            .Append(bound.Task.Contact)
            .Where(IsUncovered)
            .Distinct();
        foreach (var contact in touches)
        {
            Report(
                bound.Block,
                CareMessages.UncoveredTouch(bound.Task.Name, contact.ToString().ToLowerInvariant())
            );
        }
    }

    /// <summary>Asked of every task, and mostly with no for an answer.</summary>
    private bool HasUncovered(ProtocolTask task)
    {
        var isUncovered = IsUncovered(task.Contact);
        for (var i = 0; i < task.Help.Count && !isUncovered; i++)
        {
            isUncovered = IsUncovered(task.Help[i].Contact);
        }

        return isUncovered;
    }

    private bool IsUncovered(Contact contact) => contact != Contact.None && !_covered.Contains(contact);

    private void NoAnswer(BoundTask bound)
    {
        var task = bound.Task;
        if (task.Responses.Count == 0 && task.Ticks.Count == 0 && !declared.Values.IsBroken(task.Name))
        {
            Report(bound.Block, CareMessages.NoAnswer(task.Name));
        }
    }

    private void Answers(BoundTask bound)
    {
        var task = bound.Task;
        foreach (var response in task.Responses)
        {
            if (!response.Qualitative && !IsRead(task, response))
            {
                Report(bound.Block, CareMessages.Unread($"{task.Name}.{response.Name}"));
            }
        }

        foreach (var tick in task.Ticks)
        {
            if (!tick.Qualitative && !names.ReadObservations.Contains((task.Name, tick.Observation.Name)))
            {
                Report(bound.Block, CareMessages.Unread($"{task.Name}.{tick.Observation.Name}"));
            }
        }
    }

    private bool IsRead(ProtocolTask task, Response response)
    {
        var key = $"{task.Name}.{response.Name}";
        foreach (var variant in task.Variants)
        {
            if (names.ReadKeys.Contains(variant.Name.Length == 0 ? key : $"{key}.{variant.Name}"))
            {
                return true;
            }
        }

        return false;
    }

    private void Materials()
    {
        foreach (var material in declared.Materials.Values.Where(m => !_needed.Contains(m.Name.Text)))
        {
            diagnostics.Report(
                material.Source,
                material.Name.Place,
                CareMessages.UnusedMaterial(material.Name.Text)
            );
        }
    }

    private void Cautions()
    {
        var touched = new HashSet<Contact>();
        foreach (var task in tasks)
        {
            touched.Add(task.Task.Contact);
            foreach (var rung in task.Task.Help)
            {
                touched.Add(rung.Contact);
            }
        }

        var blocks = declared.Cautions.Values.ToDictionary(c => c.Name.Text, StringComparer.Ordinal);
        foreach (var caution in vocabulary.Cautions.Where(c => !c.IsGeneral))
        {
            if (!caution.Contacts.Any(touched.Contains) && !caution.Materials.Any(_needed.Contains))
            {
                var block = blocks[caution.Name];
                diagnostics.Report(block.Source, block.Name.Place, CareMessages.IdleCaution(caution.Name));
            }
        }
    }

    private void Report(TaskBlock block, Message message) =>
        diagnostics.Report(block.Source, block.Name.Place, message);
}
