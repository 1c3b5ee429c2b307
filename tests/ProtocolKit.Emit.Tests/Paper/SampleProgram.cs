using ProtocolKit.Model;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>A program without lines: the answers and observations a record of these tasks would hold.</summary>
internal static class SampleProgram
{
    public static ScoringProgram Of(IReadOnlyList<ProtocolTask> tasks)
    {
        var fields = new List<ProgramField> { new("age", 0, 300, "months"), new("form", 0, 1, "") };
        var answers = new List<AnswerSlot>();
        var observations = new List<ObservationSlot>();
        foreach (var task in tasks)
        {
            foreach (var variant in task.Variants)
            {
                AddAnswers(task, variant, fields, answers);
                foreach (var tick in task.Ticks)
                {
                    var key = Key(task.Name, tick.Observation.Name, variant.Name);
                    observations.Add(new(key, task, tick.Observation, variant, fields.Count));
                    fields.Add(new(key, 0, 2, ""));
                }
            }
        }

        return new()
        {
            Fields = fields,
            Lines = [],
            AgeField = 0,
            FormField = 1,
            Answers = answers,
            Observations = observations,
            Kept = [],
            Outcomes = [],
            Bands = [],
            Actions = [],
            HeadlineLine = -1,
            Claims = [],
        };
    }

    private static void AddAnswers(
        ProtocolTask task,
        Variant variant,
        List<ProgramField> fields,
        List<AnswerSlot> answers
    )
    {
        foreach (var response in task.Responses)
        {
            for (var trial = 1; trial <= task.Trials.Count; trial++)
            {
                var key = Key(task.Name, response.Name, variant.Name);
                key = task.Trials.Count > 1 ? $"{key}.trial-{trial}" : key;
                answers.Add(new(key, task, response, variant, trial, fields.Count, fields.Count + 1));
                fields.Add(new(key, 0, 100, ""));
                fields.Add(new(key + ".state", 0, 8, ""));
            }
        }
    }

    private static string Key(string task, string name, string variant) =>
        variant.Length == 0 ? $"{task}.{name}" : $"{task}.{name}.{variant}";
}
