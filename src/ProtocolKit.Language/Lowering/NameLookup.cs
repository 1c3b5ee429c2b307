using ProtocolKit.Language.Binding;
using ProtocolKit.Language.Diagnostics;
using ProtocolKit.Language.Parsing;
using ProtocolKit.Language.Tree;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>What a name in a rule leads to: an answer, an observation, or a measure or score.</summary>
internal abstract record Target
{
    internal sealed record OfAnswer(AnswerGroup Group) : Target;

    internal sealed record OfObservation(FieldValue Field, ProtocolTask Task, Observation Observation)
        : Target;

    internal sealed record OfOutcome(string Name) : Target;
}

/// <summary>Resolves <c>task.response.side</c> in this order, and says what is missing where it can't.</summary>
internal sealed class NameLookup(
    TaskIndex tasks,
    AnswerLowering answers,
    Declarations declared,
    DiagnosticBag diagnostics
)
{
    /// <summary>Longer than two names of tasks with answers and sides.</summary>
    private const int LongestSplit = 400;

    /// <summary>Names rules may use; for the warning about answers nothing reads.</summary>
    public ReadLog<string> ReadKeys { get; } = new(StringComparer.Ordinal);

    /// <summary>Observations rules ask about, by task.</summary>
    public ReadLog<(string Task, string Observation)> ReadObservations { get; } =
        new(EqualityComparer<(string Task, string Observation)>.Default);

    public Target? Find(string name, Place place, SourceText source)
    {
        var parts = name.Split('.');
        if (tasks.Find(parts[0]) is { } task)
        {
            return OfTask(task, parts, name, place, source);
        }

        if (declared.Values.Find(parts[0]) is OutcomeBlock)
        {
            if (parts.Length == 1)
            {
                return new Target.OfOutcome(name);
            }

            Report(source, PlaceOf(place, parts, 1), NameMessages.Part(parts[0], parts[1], []));
            return null;
        }

        if (!declared.Values.IsBroken(parts[0]) && declared.Values.Find(parts[0]) is null)
        {
            ReportUnknown(name, parts, place, source);
        }

        return null;
    }

    public ProtocolTask? Task(string name) => tasks.Find(name);

    public SectionBlock? RequireSection(Word name, SourceText source) =>
        declared.Sections.Require(name, source);

    public bool Knows(Word section) => declared.Sections.Find(section.Text) is not null;

    /// <summary>The task of this name, or null after reporting.</summary>
    public ProtocolTask? RequireTask(Word name, SourceText source)
    {
        if (Task(name.Text) is { } task)
        {
            return task;
        }

        if (declared.Values.Require(name, source) is OutcomeBlock)
        {
            Report(source, name.Place, NameMessages.NotHere(name.Text, "a measure or score", "a task"));
        }

        return null;
    }

    /// <summary>True where something about the name was reported already.</summary>
    public bool IsBroken(string name) => declared.Values.IsBroken(name);

    /// <summary>True where a task of the section was reported already, so that its answers are not missed.</summary>
    public bool HasBrokenTasks(string section) =>
        declared
            .Sections.Find(section)
            ?.Body.Any(b =>
                b is BrokenStatement || (b is TaskBlock task && declared.Values.IsBroken(task.Name.Text))
            )
        ?? false;

    private void ReportUnknown(string name, string[] parts, Place place, SourceText source)
    {
        var first = parts[0];
        if (SplitAtHyphen(name) is var (left, right))
        {
            Report(source, place, NameMessages.Hyphen(name, $"{left} - {right}"));
        }
        else if (declared.Sections.Find(first) is not null)
        {
            Report(source, place, NameMessages.NotHere(first, "a section", "a task, measure or score"));
        }
        else if (parts.Length == 1 && LineFailure.FiguresFor(name) is { } figures)
        {
            Report(source, place, LineMessages.Figures(name, figures));
        }
        else
        {
            var nearest = diagnostics.Nearest(
                first,
                tasks.Names.Concat(declared.Outcomes.Select(o => o.Name.Text))
            );
            if (declared.AllFound || nearest is not null)
            {
                Report(
                    source,
                    PlaceOf(place, parts, 0),
                    NameMessages.Unknown("task, measure or score", first, nearest)
                );
            }
        }
    }

    /// <summary>One part of a qualified name.</summary>
    private static Place PlaceOf(Place whole, string[] parts, int index) =>
        whole with
        {
            Column = whole.Column + parts.Take(index).Sum(p => p.Length + 1),
            Length = parts[index].Length,
        };

    /// <summary>Two known names joined by a hyphen: the author meant a subtraction.</summary>
    private (string, string)? SplitAtHyphen(string name)
    {
        if (name.Length > LongestSplit)
        {
            return null;
        }

        for (var i = name.IndexOf('-', StringComparison.Ordinal); i >= 0; i = name.IndexOf('-', i + 1))
        {
            if (IsKnown(name[..i]) && IsKnown(name[(i + 1)..]))
            {
                return (name[..i], name[(i + 1)..]);
            }
        }

        return null;
    }

    private bool IsKnown(string name) => declared.Values.Find(name.Split('.')[0]) is not null;

    private Target? OfTask(ProtocolTask task, string[] parts, string name, Place place, SourceText source)
    {
        string? response = null;
        string? observation = null;
        string? variant = null;
        for (var i = 1; i < parts.Length; i++)
        {
            var part = parts[i];
            if (response is null && observation is null && variant is null && HasResponse(task, part))
            {
                response = part;
            }
            else if (response is null && observation is null && variant is null && HasTick(task, part))
            {
                observation = part;
            }
            else if (variant is null && HasVariant(task, part))
            {
                variant = part;
            }
            else if (declared.Values.IsBroken(task.Name))
            {
                return null;
            }
            else
            {
                var known = task
                    .Responses.Select(r => r.Name)
                    .Concat(task.Ticks.Select(t => t.Observation.Name))
                    .Concat(task.Variants.Select(v => v.Name).Where(n => n.Length > 0));
                if (SplitAtHyphen(name) is var (left, right))
                {
                    Report(source, place, NameMessages.Hyphen(part, $"{left} - {right}"));
                }
                else
                {
                    Report(source, PlaceOf(place, parts, i), NameMessages.Part(task.Name, part, [.. known]));
                }

                return null;
            }
        }

        if (variant is null && task.Variants[0].Name is { Length: > 0 } first)
        {
            var kind = task.VariantKind.ToString().ToLowerInvariant();
            Report(source, place, NameMessages.Sided(name, kind, $"{name}.{first}"));
            return null;
        }

        if (observation is not null)
        {
            ReadObservations.Add((task.Name, observation));
        }

        return observation is null
            ? Answer(task, response, variant ?? "", place, source)
            : new Target.OfObservation(
                answers.FindObservation(task.Name, observation, variant ?? "")!,
                task,
                task.Ticks.First(t => t.Observation.Name == observation).Observation
            );
    }

    private static bool HasResponse(ProtocolTask task, string name)
    {
        foreach (var response in task.Responses)
        {
            if (response.Name == name)
            {
                return true;
            }
        }

        return false;
    }

    private static bool HasTick(ProtocolTask task, string name)
    {
        foreach (var tick in task.Ticks)
        {
            if (tick.Observation.Name == name)
            {
                return true;
            }
        }

        return false;
    }

    private static bool HasVariant(ProtocolTask task, string name)
    {
        foreach (var variant in task.Variants)
        {
            if (variant.Name == name)
            {
                return true;
            }
        }

        return false;
    }

    private Target.OfAnswer? Answer(
        ProtocolTask task,
        string? response,
        string variant,
        Place place,
        SourceText source
    )
    {
        if (response is null)
        {
            if (task.Responses.Count != 1)
            {
                if (!declared.Values.IsBroken(task.Name))
                {
                    Report(
                        source,
                        place,
                        NameMessages.WhichAnswer(task.Name, [.. task.Responses.Select(r => r.Name)])
                    );
                }

                return null;
            }

            response = task.Responses[0].Name;
        }

        return new Target.OfAnswer(Read(answers.Find(task.Name, response, variant)!));
    }

    /// <summary>An answer of a task, read by a rule that need not name it.</summary>
    public AnswerGroup Answer(ProtocolTask task, Response response, string variant) =>
        Read(answers.Find(task.Name, response.Name, variant)!);

    private AnswerGroup Read(AnswerGroup group)
    {
        ReadKeys.Add(group.Key);
        return group;
    }

    private void Report(SourceText source, Place place, Message message) =>
        diagnostics.Report(source, place, message);
}
