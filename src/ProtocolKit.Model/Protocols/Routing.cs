namespace ProtocolKit.Model;

/// <summary>What a skipped answer counts as.</summary>
public enum Credit
{
    /// <summary>Not applicable: it shrinks sum and range.</summary>
    LeftOut,

    /// <summary>Its poorest value; not applicable where neither end of it is better.</summary>
    Lowest,

    /// <summary>Its best value; not applicable where neither end of it is better.</summary>
    Full,
}

/// <summary>A task, or every task of a section, isn't given where a condition surely holds.</summary>
/// <param name="Condition">As the author wrote it.</param>
public sealed record SkipRule(string Condition, Credit Credit, Origin Origin);

/// <summary>Children of this age and older begin a section at this task.</summary>
public sealed record StartPoint(Age From, string Task, Origin Origin);

/// <summary>A section ends after so many tasks in a row whose rating is the poorest.</summary>
/// <param name="Points">The poorest points as the author wrote them.</param>
public sealed record StopRule(int InARow, Rational Points, Origin Origin);

/// <summary>An answer of the case history that closes tasks: they are not possible, never zero.</summary>
/// <param name="OnYes">True where a yes closes them, false where a no does.</param>
/// <param name="What">What it closes in words, such as <c>mouth contact</c>.</param>
/// <param name="Tasks">Names of the tasks it closes, in giving order.</param>
/// <param name="Unless">A yes to this question of the case history keeps them open; null for none.</param>
public sealed record Gate(
    bool OnYes,
    string What,
    IReadOnlyList<string> Tasks,
    string? Unless,
    Origin Origin
);

/// <summary>What an event stops for the child's welfare.</summary>
public enum WelfareStop
{
    Nothing,

    /// <summary>The remaining tasks that touch the mouth.</summary>
    Mouth,

    /// <summary>The remaining tasks that touch face or mouth.</summary>
    Touch,

    /// <summary>All remaining tasks.</summary>
    Sitting,
}

/// <summary>Something that may happen in a sitting, such as a gag.</summary>
public sealed record EventKind(string Name, string Text, WelfareStop Stops, Origin Origin)
{
    /// <summary>What it stops, in words.</summary>
    public string StopsWords =>
        Stops switch
        {
            WelfareStop.Mouth => "the remaining tasks that touch the mouth",
            WelfareStop.Touch => "the remaining tasks that touch face or mouth",
            WelfareStop.Sitting => "all remaining tasks",
            _ => "nothing",
        };

    /// <summary>True for a task that is stopped once this has happened.</summary>
    public bool StopsTask(ProtocolTask task)
    {
        ArgumentNullException.ThrowIfNull(task);
        return Stops switch
        {
            WelfareStop.Mouth => task.Contact == Contact.Mouth,
            WelfareStop.Touch => task.Contact != Contact.None,
            WelfareStop.Sitting => true,
            _ => false,
        };
    }
}
