using ProtocolKit.Model;
using ProtocolKit.Scoring;
using ProtocolKit.Workspace;

namespace ProtocolKit.Verification.Tests;

/// <summary>The example of the library, whole.</summary>
public class ExampleTests
{
    [Fact]
    public void Every_target_agrees_on_the_example_screen()
    {
        var report = Verifier.Run(Screen(), new VerifyOptions { Records = 200, Targets = Quick.Targets });

        Assert.True(report.NothingWrong, VerifyText.Write(report));
        Assert.True(report.AtEdges > 1000);
    }

    /// <summary>The reasons emitted code gives rest on the same answers as those that score explains.</summary>
    [Fact]
    public void Values_rest_on_the_answers_that_score_names()
    {
        var screen = Screen();
        foreach (var fields in Testing.Records.AllAtEdges(screen))
        {
            var scored = Scorer.Score(screen, Sitting(screen, fields));
            for (var i = 0; i < scored.Outcomes.Count; i++)
            {
                var read = ProgramReads
                    .Of(screen.Program, screen.Program.Outcomes[i])
                    .Select(k => (k.Key, (State)scored.Lines[k.StateLine]))
                    .Where(k => k.Item2.IsUntried());
                Assert.Equal(scored.Outcomes[i].Untried, read);
            }
        }
    }

    /// <summary>Written as YAML and read again, every record has the fields it was written from.</summary>
    [Fact]
    public void The_reader_of_records_reads_what_the_generators_mean()
    {
        var screen = Screen();
        foreach (
            var fields in Testing.Records.AllAtEdges(screen).Concat(Testing.Records.Random(screen, 200, 4))
        )
        {
            var text = RecordWriter.Write(screen, Sitting(screen, fields));
            var reading = RecordReader.Read(text, "record.yaml", screen);

            Assert.True(reading.Record is not null, string.Join('\n', reading.Problems));
            Assert.Equal(fields, reading.Record.Fields);
        }
    }

    private static SittingRecord Sitting(Protocol protocol, long[] fields) =>
        new()
        {
            Case = "QC-0001",
            Age = new Age((int)fields[protocol.Program.AgeField]),
            Seen = [new DateOnly(2026, 3, 4)],
            IsShortForm = fields[protocol.Program.FormField] == 1,
            Fields = fields,
            Help = HelpOf(protocol, fields, trial: 1)
                .Where(h => h.Text != "No help")
                .ToDictionary(h => h.Key, h => h.Text),
            Aided = HelpOf(protocol, fields, trial: 2).ToDictionary(h => h.Key, h => h.Text),
        };

    /// <summary>Which help was given (1), or what came of it (2), as a record has it.</summary>
    private static IEnumerable<(string Key, string Text)> HelpOf(
        Protocol protocol,
        long[] fields,
        int trial
    ) =>
        from slot in protocol.Program.Answers
        where slot.IsHelp && slot.Trial == trial && fields[slot.StateField] == (long)State.Known
        let task = HelpLadder.TaskOf(slot.Task.Name) + (trial == 1 ? "" : "." + slot.Response.Name)
        let part = slot.Variant.Name.Length == 0 ? task : $"{task}.{slot.Variant.Name}"
        let value = (int)fields[slot.ValueField]
        select (part, trial == 1 ? slot.Response.Options[value].Text : Points(slot.Response, value));

    private static string Points(Response response, int level) =>
        response.Scale!.Levels.Select(l => l.Points).Order().ElementAt(level).ToString();

    internal static Protocol Screen()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "ProtocolKit.sln")))
        {
            folder = folder.Parent!;
        }

        var path = Path.Combine(folder.FullName, "library", "quillmere", "quillmere-screen.protocol");
        return ProtocolFile.Open(path).Compilation.Protocol!;
    }
}
