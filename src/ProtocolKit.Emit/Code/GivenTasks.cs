using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>Which line says whether the task of an answer is given.</summary>
internal sealed class GivenTasks(ScoringProgram program)
{
    private readonly Dictionary<(string Task, string Variant), int> _lines = program.Giving.ToDictionary(
        g => (g.Task.Name, g.Variant.Name),
        g => g.GivenLine
    );

    /// <summary>The condition line, or -1 where the task is always given (or only outside the short form).</summary>
    public int LineOf(AnswerSlot answer) =>
        _lines.GetValueOrDefault((answer.Task.Name, answer.Variant.Name), -1);

    /// <summary>Whether an answer says which help was given: no word about help is no help.</summary>
    public static bool IsHelpGiven(AnswerSlot answer) => answer is { IsHelp: true, Trial: 1 };
}
