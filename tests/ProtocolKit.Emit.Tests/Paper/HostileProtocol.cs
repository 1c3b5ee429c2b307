using ProtocolKit.Model;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>The sample with one and the same text wherever an author may write one.</summary>
internal static class HostileProtocol
{
    public static Protocol Of(string text)
    {
        var sample = SampleProtocol.Full;
        var tasks = sample.Tasks.Select(t => Task(t, text)).ToList();
        var outcome = sample.Outcomes[0] with { Title = text, Formula = text, TimingError = text };
        Band[] bands = [new("a", text), new("b", text)];
        return sample with
        {
            Title = text,
            Edition = text,
            Language = text,
            Purpose = text,
            Examiner = text,
            References = [text],
            Materials = sample.Materials.Select(m => m with { Text = text, Amount = text }).ToList(),
            Cautions = sample.Cautions.Select(c => c with { Text = text }).ToList(),
            Sections = [SampleProtocol.Tongue with { Title = text, Introduction = text }],
            Tasks = tasks,
            Outcomes = [outcome],
            Bands = bands,
            CutOffs = sample.CutOffs.Select(c => Table(c, outcome, bands, text)).ToList(),
            Actions = sample
                .Actions.Select(a => a with { Title = text, Urgency = text, Conditions = [text, text] })
                .ToList(),
            History = sample.History.Select(q => q with { Text = text }).ToList(),
            Consents = sample.Consents.Select(c => c with { Name = text, Text = text }).ToList(),
            Program = SampleProgram.Of(tasks),
            Fingerprints = new(text, text, text),
        };
    }

    private static CutOffTable Table(CutOffTable table, Outcome outcome, Band[] bands, string text) =>
        table with
        {
            Outcome = outcome,
            Bands = bands,
            Rows = table.Rows.Select(r => r with { Cells = [.. r.Cells.Take(2)] }).ToList(),
            Basis = table.Basis with { Text = text, Details = [text] },
        };

    private static ProtocolTask Task(ProtocolTask task, string text) =>
        task with
        {
            Title = text,
            Section = SampleProtocol.Tongue with { Title = text, Introduction = text },
            Materials = task
                .Materials.Select(m => m with { Name = text, Text = text, Amount = text })
                .ToList(),
            Go = text,
            Practice = text,
            Repeat = text,
            Hold = text,
            Variants = task
                .Variants.Select(v => v with { Text = text, Say = [text], Show = [text] })
                .ToList(),
            Responses = task.Responses.Select(r => Response(r, text)).ToList(),
            Ticks = task
                .Ticks.Select(t => t with { Observation = t.Observation with { Text = text } })
                .ToList(),
            Help = task.Help.Select(h => h with { Text = text }).ToList(),
            StopWhen = [text],
            Note = text,
        };

    private static Response Response(Response response, string text) =>
        response with
        {
            Options = response.Options.Select(o => o with { Text = text }).ToList(),
            Unit = response.IsNumber ? Unit.Tag(text) : response.Unit,
            Scale = response.Scale is { } scale
                ? scale with
                {
                    Levels = scale.Levels.Select(l => l with { Text = text, Example = text }).ToList(),
                }
                : null,
        };
}
