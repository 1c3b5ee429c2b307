using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>Questions of the case history with the tasks their answers close, and the events of a sitting.</summary>
internal sealed class GateBinder(
    Declarations declared,
    IReadOnlyList<ProtocolTask> tasks,
    DiagnosticBag diagnostics
)
{
    public List<HistoryQuestion> Questions()
    {
        var symbols = new Symbols<AskLine>("question", diagnostics);
        var asked = declared.Questions.Where(q => symbols.Declare(q.Name, q.Source, q)).ToList();
        return
        [
            .. asked.Select(q => new HistoryQuestion(
                q.Name.Text,
                q.Text.Text,
                q.YesNo ? HistoryAnswer.YesNo : HistoryAnswer.Text,
                q.Source.OriginOf(q.Place)
            )
            {
                Gates = [.. q.Gates.Select(g => Gate(q, g, symbols)).OfType<Gate>()],
            }),
        ];
    }

    public List<EventKind> Events()
    {
        var symbols = new Symbols<EventLine>("event", diagnostics);
        var kinds = declared
            .Events.Where(e => symbols.Declare(e.Name, e.Source, e))
            .Select(e =>
                (Line: e, Kind: new EventKind(e.Name.Text, e.Text.Text, e.Stops, e.Source.OriginOf(e.Place)))
            )
            .ToList();
        foreach (var (line, kind) in kinds)
        {
            if (kind.Stops != WelfareStop.Nothing && tasks.Count > 0 && !tasks.Any(kind.StopsTask))
            {
                var what = kind.Stops == WelfareStop.Mouth ? "mouth contact" : "face or mouth contact";
                diagnostics.Report(line.Source, line.Place, RoutingMessages.Idle(what));
            }
        }

        return [.. kinds.Select(k => k.Kind)];
    }

    private Gate? Gate(AskLine question, GateLine line, Symbols<AskLine> questions)
    {
        if (!question.YesNo)
        {
            diagnostics.Report(line.Source, line.Place, RoutingMessages.NotYesNo(question.Name.Text));
            return null;
        }

        if (line.Unless is { } unless && !IsYesNo(unless, line, questions))
        {
            return null;
        }

        var closed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var target in line.Targets)
        {
            closed.UnionWith(TasksOf(target, line));
        }

        var words = line.Targets.Select(Words);
        return new Gate(
            line.OnYes,
            string.Join(", ", words),
            [.. tasks.Where(t => closed.Contains(t.Name)).Select(t => t.Name)],
            line.Unless?.Text,
            line.Source.OriginOf(line.Place)
        );
    }

    private bool IsYesNo(Word unless, GateLine line, Symbols<AskLine> questions)
    {
        if (questions.Require(unless, line.Source) is not { } other)
        {
            return false;
        }

        if (!other.YesNo)
        {
            diagnostics.Report(line.Source, unless.Place, RoutingMessages.NotYesNo(unless.Text));
        }

        return other.YesNo;
    }

    private IEnumerable<string> TasksOf(GateTarget target, GateLine line)
    {
        var name = target.Name.Text;
        if (target.IsContact)
        {
            return Touching(target.Name, line);
        }

        if (tasks.Any(t => t.Name == name))
        {
            return [name];
        }

        if (declared.Sections.Find(name) is not null)
        {
            return tasks.Where(t => t.Section?.Name == name).Select(t => t.Name);
        }

        var nearest = diagnostics.Nearest(name, tasks.Select(t => t.Name).Concat(declared.Sections.Names));
        if (!declared.Values.IsBroken(name) && (declared.AllFound || nearest is not null))
        {
            diagnostics.Report(
                line.Source,
                target.Name.Place,
                NameMessages.Unknown("task or section", name, nearest)
            );
        }

        return [];
    }

    private IEnumerable<string> Touching(Word contact, GateLine line)
    {
        if (contact.Text is not ("face" or "mouth"))
        {
            diagnostics.Report(
                line.Source,
                contact.Place,
                NameMessages.UnknownOf("contact", contact.Text, ["face", "mouth"])
            );
            return [];
        }

        var wanted = contact.Text == "face" ? Contact.Face : Contact.Mouth;
        var touching = tasks.Where(t => t.Contact == wanted).Select(t => t.Name).ToList();
        if (touching.Count == 0 && tasks.Count > 0)
        {
            diagnostics.Report(line.Source, contact.Place, RoutingMessages.Idle($"{contact.Text} contact"));
        }

        return touching;
    }

    private static string Words(GateTarget target) =>
        target.IsContact ? $"{target.Name.Text} contact" : target.Name.Text;
}
