using ProtocolKit.Model;

namespace ProtocolKit.Emit.Paper;

/// <summary>The letters that are circled when an answer could not be rated, in the order of the sheet.</summary>
public static class UntriedCodes
{
    public static IReadOnlyList<CodeView> All { get; } =
        States.Untried.Select(u => new CodeView(Letter(u.State), u.Words)).ToList();

    /// <summary>For a footer: <c>R refused, U not understood …</c>; a letter never parts from its words.</summary>
    public static string Legend { get; } =
        string.Join(
            " ",
            All.Select(c => $"{c.Letter} {c.Words}".Replace(' ', '\u00A0') + (c == All[^1] ? "." : ","))
        );

    private static string Letter(State state) =>
        state switch
        {
            State.Refused => "R",
            State.NotUnderstood => "U",
            State.NotPossible => "P",
            State.Stopped => "W",
            State.OutOfTime => "T",
            State.Spoiled => "S",
            State.NotPlanned => "N",
            _ => throw new ArgumentOutOfRangeException(
                nameof(state),
                state,
                "Only untried codes have a letter."
            ),
        };
}

/// <param name="Letter">What is circled.</param>
/// <param name="Words">What it means, shortly.</param>
public sealed record CodeView(string Letter, string Words);
