namespace ProtocolKit.Model;

public enum TextUse
{
    /// <summary>Spoken to the child.</summary>
    Say,

    /// <summary>Read by the examiner or the family.</summary>
    Printed,

    /// <summary>A paragraph of a letter, a note or a passage: placeholders stand in braces.</summary>
    Report,
}

/// <summary>Rewrites every text of a protocol that people read or hear, and nothing else: no name, number or rule.</summary>
/// <param name="map">
/// Gets a text, how it is used, and the task it stands in (empty outside tasks); gives the text that takes its place.
/// </param>
public sealed class ProtocolTexts(Func<string, TextUse, string, string> map)
{
    private readonly Dictionary<string, Observation> _observations = new(StringComparer.Ordinal);

    public Protocol Map(Protocol protocol)
    {
        ArgumentNullException.ThrowIfNull(protocol);
        var materials = protocol.Materials.ToDictionary(m => m.Name, Material, StringComparer.Ordinal);
        var scales = protocol.Scales.ToDictionary(s => s.Name, Scale, StringComparer.Ordinal);
        foreach (var observation in protocol.Observations)
        {
            _observations[observation.Name] = observation with { Text = Printed(observation.Text) };
        }

        var sections = protocol.Sections.ToDictionary(s => s.Name, Section, StringComparer.Ordinal);
        var tasks = protocol
            .Tasks.Select(t => Task(t, sections, materials, scales))
            .ToDictionary(t => t.Name, StringComparer.Ordinal);
        var rules = new RuleTexts(protocol, Printed);
        return protocol with
        {
            Title = Printed(protocol.Title),
            Purpose = Maybe(protocol.Purpose),
            Examiner = Maybe(protocol.Examiner),
            Materials = [.. materials.Values],
            Cautions = [.. protocol.Cautions.Select(c => c with { Text = Printed(c.Text) })],
            Scales = [.. scales.Values],
            Observations = [.. _observations.Values],
            Sections = [.. sections.Values],
            Tasks = [.. protocol.Tasks.Select(t => tasks[t.Name])],
            Outcomes = rules.Outcomes,
            Bands = rules.Bands,
            CutOffs = rules.CutOffs,
            Actions = rules.Actions,
            Claims = rules.Claims,
            ReTests = rules.ReTests,
            Texts = [.. protocol.Texts.Select(Text)],
            Events = [.. protocol.Events.Select(e => e with { Text = Printed(e.Text) })],
            History = [.. protocol.History.Select(h => h with { Text = Printed(h.Text) })],
            Consents = [.. protocol.Consents.Select(c => c with { Text = Printed(c.Text) })],
            Program = Program(protocol.Program, tasks, rules),
        };
    }

    private string Printed(string text) => map(text, TextUse.Printed, "");

    private string? Maybe(string? text) => text is null ? null : Printed(text);

    private Material Material(Material material) =>
        material with
        {
            Text = Printed(material.Text),
            Amount = Maybe(material.Amount),
        };

    private Scale Scale(Scale scale) =>
        scale with
        {
            Levels =
            [
                .. scale.Levels.Select(l => l with { Text = Printed(l.Text), Example = Maybe(l.Example) }),
            ],
        };

    private Section Section(Section section) =>
        section with
        {
            Title = Printed(section.Title),
            Introduction = Maybe(section.Introduction),
            DifficultyBasis = Maybe(section.DifficultyBasis),
        };

    private ReportText Text(ReportText text) =>
        text with
        {
            Paragraphs = [.. text.Paragraphs.Select(p => p with { Text = map(p.Text, TextUse.Report, "") })],
        };

    private ProtocolTask Task(
        ProtocolTask task,
        Dictionary<string, Section> sections,
        Dictionary<string, Material> materials,
        Dictionary<string, Scale> scales
    )
    {
        return task with
        {
            Title = In(task.Title),
            Section = task.Section is null ? null : sections[task.Section.Name],
            Materials = [.. task.Materials.Select(m => materials[m.Name])],
            Go = Maybe(task.Go),
            Practice = Maybe(task.Practice),
            Repeat = Maybe(task.Repeat),
            StopWhen = [.. task.StopWhen.Select(In)],
            Note = Maybe(task.Note),
            Variants = [.. task.Variants.Select(Variant)],
            Responses = [.. task.Responses.Select(r => Response(r, In, scales))],
            Ticks =
            [
                .. task.Ticks.Select(t =>
                    t with
                    {
                        Observation = _observations.GetValueOrDefault(t.Observation.Name, t.Observation),
                    }
                ),
            ],
            Help = [.. task.Help.Select(h => h with { Text = In(h.Text), Original = h.Original ?? h.Text })],
        };

        string In(string text) => map(text, TextUse.Printed, task.Name);

        string? Maybe(string? text) => text is null ? null : In(text);

        Variant Variant(Variant variant) =>
            variant with
            {
                Text = variant.Text.Length == 0 ? "" : In(variant.Text),
                Say = [.. variant.Say.Select(s => map(s, TextUse.Say, task.Name))],
                Show = [.. variant.Show.Select(In)],
            };
    }

    private static Response Response(
        Response response,
        Func<string, string> text,
        Dictionary<string, Scale> scales
    ) =>
        response with
        {
            Scale = response.Scale is null
                ? null
                : scales.GetValueOrDefault(response.Scale.Name, response.Scale),
            Question = response.Question is null ? null : text(response.Question),
            Options = [.. response.Options.Select(o => o with { Text = text(o.Text) })],
        };

    /// <summary>What is asked about help, in the rewritten words of the task and its rungs.</summary>
    private static ProtocolTask Helped(ProtocolTask asked, ProtocolTask task)
    {
        // The strongest help first, then none, which is no text of the protocol.
        var rungs = task.HelpRungs().Reverse().Select(r => r.Text).ToList();
        return task with
        {
            Name = asked.Name,
            Trials = asked.Trials,
            Ticks = [],
            Help = [],
            Responses =
            [
                asked.Responses[0] with
                {
                    Options =
                    [
                        .. asked
                            .Responses[0]
                            .Options.Select((o, i) => i < rungs.Count ? o with { Text = rungs[i] } : o),
                    ],
                },
                .. asked.Responses.Skip(1).Select(r => task.Responses.First(t => t.Name == r.Name)),
            ],
        };
    }

    /// <summary>The same program with slots that hold the rewritten tasks and rules.</summary>
    private ScoringProgram Program(
        ScoringProgram program,
        Dictionary<string, ProtocolTask> tasks,
        RuleTexts rules
    )
    {
        foreach (var asked in program.Answers.Where(a => a.IsHelp).Select(a => a.Task))
        {
            tasks[asked.Name] = Helped(asked, tasks[HelpLadder.TaskOf(asked.Name)]);
        }

        return program with
        {
            Answers =
            [
                .. program.Answers.Select(a =>
                    a with
                    {
                        Task = tasks[a.Task.Name],
                        Response = ResponseOf(a.Task, a.Response),
                        Variant = VariantOf(a.Task, a.Variant),
                    }
                ),
            ],
            Observations =
            [
                .. program.Observations.Select(o =>
                    o with
                    {
                        Task = tasks[o.Task.Name],
                        Observation = _observations.GetValueOrDefault(o.Observation.Name, o.Observation),
                        Variant = VariantOf(o.Task, o.Variant),
                    }
                ),
            ],
            Kept =
            [
                .. program.Kept.Select(k =>
                    k with
                    {
                        Task = tasks[k.Task.Name],
                        Response = ResponseOf(k.Task, k.Response),
                        Variant = VariantOf(k.Task, k.Variant),
                    }
                ),
            ],
            Outcomes =
            [
                .. program.Outcomes.Select(o =>
                    o with
                    {
                        Outcome = rules.Of(o.Outcome),
                        Sides = o.Sides is { } sides
                            ? sides with
                            {
                                Tasks = [.. sides.Tasks.Select(t => t with { Task = tasks[t.Task.Name] })],
                            }
                            : null,
                    }
                ),
            ],
            Bands = [.. program.Bands.Select(b => b with { Table = rules.Of(b.Table) })],
            Actions = [.. program.Actions.Select(a => a with { Action = rules.Of(a.Action) })],
            Claims = [.. program.Claims.Select(c => c with { Claim = rules.Of(c.Claim) })],
        };

        Response ResponseOf(ProtocolTask task, Response response) =>
            tasks[task.Name].Responses.First(r => r.Name == response.Name);

        Variant VariantOf(ProtocolTask task, Variant variant) =>
            tasks[task.Name].Variants.First(v => v.Name == variant.Name);
    }
}
