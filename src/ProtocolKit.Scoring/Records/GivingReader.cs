using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Which tasks of a record are given, and why not, from its answers and its case history.</summary>
internal sealed class GivingReader
{
    private readonly Dictionary<(string Task, string Variant), Giving> _why;

    private GivingReader(Dictionary<(string, string), Giving> why) => _why = why;

    /// <summary>The fields of absent answers are not applicable: none of them counts for a run.</summary>
    public static GivingReader Of(ScoringProgram program, IReadOnlyList<long> fields) =>
        From(program, Evaluator.Run(program, fields, program.GivingEnd));

    /// <param name="lines">The values of the program's lines, at least those that say what is given.</param>
    public static GivingReader From(ScoringProgram program, IReadOnlyList<long> lines) =>
        new(program.Giving.ToDictionary(g => (g.Task.Name, g.Variant.Name), g => (Giving)lines[g.WhyLine]));

    public Giving Of(ProtocolTask task, Variant variant) => _why.GetValueOrDefault((task.Name, variant.Name));

    /// <summary>Tells of answers to tasks that should not have been given; they are kept and don't count.</summary>
    public void Remark(IEnumerable<AnswerSlot> answered, ProblemList problems)
    {
        foreach (
            var part in answered
                .Where(s => Of(s.Task, s.Variant) is not (Giving.Given or Giving.OtherForm))
                .GroupBy(s => (s.Task.Name, s.Variant.Name))
        )
        {
            var first = part.First();
            problems.Remark(
                $"{PartNames.Of(first.Task, first.Variant)} was given although {Reason(Of(first.Task, first.Variant))}: the answer is kept, but it isn't counted."
            );
        }
    }

    private static string Reason(Giving why) =>
        why switch
        {
            Giving.Closed => "the case history closes it",
            Giving.BelowStart => "it lies below the start point",
            Giving.StoppedLowest or Giving.StoppedOut => "the section had stopped before it",
            _ => "it should have been skipped",
        };
}
