namespace ProtocolKit.Model;

/// <summary>
/// Whether a task, or one side or place of it, is given, and why not. The numbers are those of the core
/// program's lines.
/// </summary>
public enum Giving
{
    Given = 0,

    /// <summary>The record is of the short form, and this task isn't part of it.</summary>
    OtherForm = 1,

    /// <summary>The case history closes it: its answers are not possible.</summary>
    Closed = 2,

    /// <summary>A skip leaves it out: not applicable.</summary>
    SkippedOut = 3,

    /// <summary>A skip counts it as the poorest.</summary>
    SkippedLowest = 4,

    /// <summary>A skip counts it in full.</summary>
    SkippedFull = 5,

    /// <summary>It lies below the start point: it counts in full.</summary>
    BelowStart = 6,

    /// <summary>Its section has stopped, under an order of difficulty: it counts as the poorest.</summary>
    StoppedLowest = 7,

    /// <summary>Its section has stopped, without an order of difficulty: not applicable.</summary>
    StoppedOut = 8,
}

/// <summary>
/// Where the program says whether a task, or one side or place of it, is given. One that is always given (or only
/// outside the short form) has no such lines. A canonical record has answers exactly where the line holds.
/// </summary>
/// <param name="GivenLine">The condition line; it reads no answers of later tasks but where a start point goes back.</param>
/// <param name="WhyLine">The line with a <see cref="Giving"/>; 0 exactly where <paramref name="GivenLine"/> holds.</param>
public sealed record GivingLines(ProtocolTask Task, Variant Variant, int GivenLine, int WhyLine);

/// <summary>Where the answer to a question of the case history lives that opens or closes tasks: 0 no, 1 yes.</summary>
public sealed record HistorySlot(HistoryQuestion Question, int Field)
{
    /// <summary>Its name in records.</summary>
    public string Key => Question.Name;

    /// <summary>A record must answer it: left out, nobody could know whether tasks were closed.</summary>
    public bool IsNeeded => Question.Gates.Count > 0;
}
