using ProtocolKit.Model;

namespace ProtocolKit.Emit.Code;

/// <summary>Refuses, by name, outputs that would not know which tasks of a record are given.</summary>
internal static class UnreadGiving
{
    /// <exception cref="OutputRefusedException">The protocol has start points, stop rules, skips or gates.</exception>
    public static void Refuse(string kind, ScoringProgram program)
    {
        if (program.Giving.Count > 0 || program.History.Count > 0)
        {
            throw new OutputRefusedException(
                $"{kind}: start points, stop rules, skips and gates of the case history can't be read by this output yet. Use csharp, javascript or python."
            );
        }
    }
}
