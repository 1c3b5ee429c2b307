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
    /// <summary>
    /// What nothing needs, reads or covers is told only where all lines could be understood: the line that needs it may
    /// be the one with a mistake.
    /// </summary>
    public void Run()
    {
        var complete = !diagnostics.HasErrors;
        foreach (var task in tasks)
        {
            Touch(task);
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
        if (
            declared.HasBroken("caution")
            || declared.Cautions.Values.Any(c => c.Incomplete)
            || !declared.AllFound
        )
        {
            return;
        }

        var touches = bound
            .Task.Help.Select(h => h.Contact)
            .Append(bound.Task.Contact)
            .Where(c => c != Contact.None)
            .Distinct();
        foreach (var contact in touches)
        {
            if (!vocabulary.Cautions.Any(c => c.Contacts.Contains(contact)))
            {
                Report(
                    bound.Block,
                    CareMessages.UncoveredTouch(bound.Task.Name, contact.ToString().ToLowerInvariant())
                );
            }
        }
    }

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
        foreach (var response in task.Responses.Where(r => !r.Qualitative))
        {
            var isRead = task.Variants.Any(v =>
                names.ReadKeys.Contains(
                    v.Name.Length == 0
                        ? $"{task.Name}.{response.Name}"
                        : $"{task.Name}.{response.Name}.{v.Name}"
                )
            );
            if (!isRead)
            {
                Report(bound.Block, CareMessages.Unread($"{task.Name}.{response.Name}"));
            }
        }

        foreach (var tick in task.Ticks.Where(t => !t.Qualitative))
        {
            if (!names.ReadObservations.Contains((task.Name, tick.Observation.Name)))
            {
                Report(bound.Block, CareMessages.Unread($"{task.Name}.{tick.Observation.Name}"));
            }
        }
    }

    private void Materials()
    {
        foreach (var material in declared.Materials.Values)
        {
            var name = material.Name.Text;
            if (!tasks.Any(t => t.Task.Materials.Any(m => m.Name == name)))
            {
                diagnostics.Report(material.Source, material.Name.Place, CareMessages.UnusedMaterial(name));
            }
        }
    }

    private void Cautions()
    {
        foreach (var block in declared.Cautions.Values)
        {
            var caution = vocabulary.Cautions.First(c => c.Name == block.Name.Text);
            if (!caution.IsGeneral && !tasks.Any(t => Covers(caution, t.Task)))
            {
                diagnostics.Report(block.Source, block.Name.Place, CareMessages.IdleCaution(caution.Name));
            }
        }
    }

    private static bool Covers(Caution caution, ProtocolTask task) =>
        caution.Contacts.Contains(task.Contact)
        || task.Help.Any(h => caution.Contacts.Contains(h.Contact))
        || task.Materials.Any(m => caution.Materials.Contains(m.Name));

    private void Report(TaskBlock block, Message message) =>
        diagnostics.Report(block.Source, block.Name.Place, message);
}
