using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Lowering;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Editing;

/// <summary>
/// A section's own line: its title or its name. Its tasks are told so; under another name, rules that read its tasks are lowered
/// anew, and miss it where they name it.
/// </summary>
internal sealed class SectionEdit(BoundProtocol bound, Undo undo)
{
    private readonly DiagnosticBag _bag = bound.Bag;

    /// <summary>As <see cref="RuleEdit.With"/>.</summary>
    public BoundProtocol? With(BlockPlace place, SectionBlock anew)
    {
        var old = (SectionBlock)place.Block;
        if (
            !bound.Lowering.Steps.AreApart
            || bound.Declared.Orders.Exists(o => o.Lines.Count > 0)
            || anew.Body.Count > 0
            || anew.Qualitative != old.Qualitative
            || _bag.Found.Count > 0
            || bound.OfRest.Concat(bound.OfCare).Concat(bound.OfParts).Any(IsHere)
        )
        {
            return null;
        }

        anew.Body.AddRange(old.Body);
        return Declare(old, anew) ? Lower(old, anew) : null;

        bool IsHere(Diagnostic d) => d.Source.Name == anew.Source.Name && place.Holds(d.Place);
    }

    private bool Declare(SectionBlock old, SectionBlock anew)
    {
        var sections = bound.Declared.Sections;
        if (old.Name.Text != anew.Name.Text)
        {
            return sections.Rename(old.Name.Text, anew.Name, anew.Source, anew, undo);
        }

        sections.Replace(anew.Name, anew.Source, anew, undo);
        return true;
    }

    private BoundProtocol? Lower(SectionBlock old, SectionBlock anew)
    {
        var (name, lowering) = (old.Name.Text, bound.Lowering);
        var resting = name == anew.Name.Text ? [] : lowering.Steps.RestingOn(bound.In(name));
        var section = new RoutingBinder(_bag).Bind(anew);
        var moved = bound
            .Tasks.Where(t => t.Task.Section?.Name == name)
            .ToDictionary(
                t => t.Task,
                t => t.Task with { Section = section },
                (IEqualityComparer<ProtocolTask>)ReferenceEqualityComparer.Instance
            );
        var tasks = bound
            .Tasks.Select(t => moved.TryGetValue(t.Task, out var task) ? t with { Task = task } : t)
            .ToArray();
        lowering.BeginAgain(undo);
        lowering.Put(tasks, undo);
        var relowering = new Relowering(
            lowering,
            new ProgramTasks(moved).Replace(bound.Protocol.Program),
            _bag,
            undo
        );
        relowering.Lower(null, resting);
        var sections = bound.Sections.ToDictionary(
            s => s.Key == name ? section.Name : s.Key,
            s => s.Key == name ? section : s.Value,
            StringComparer.Ordinal
        );
        var among = bound with
        {
            Sections = sections,
            Protocol = bound.Protocol with { Sections = [.. sections.Values] },
        };
        return among.With(relowering, tasks, [], keepsCare: true);
    }
}
