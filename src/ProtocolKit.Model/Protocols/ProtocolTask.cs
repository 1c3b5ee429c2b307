namespace ProtocolKit.Model;

/// <summary>One task as it stands on a card: what is said, shown, tried and answered.</summary>
public sealed record ProtocolTask
{
    public required string Name { get; init; }
    public required string Title { get; init; }

    /// <summary>Its place in the giving order, from 1.</summary>
    public required int Number { get; init; }
    public Section? Section { get; init; }
    public bool ShortForm { get; init; }
    public Contact Contact { get; init; }
    public IReadOnlyList<Material> Materials { get; init; } = [];

    /// <summary>How the child knows when to begin.</summary>
    public string? Go { get; init; }
    public string? Practice { get; init; }

    /// <summary>What may be repeated when not understood.</summary>
    public string? Repeat { get; init; }

    /// <summary>As written, such as <c>3 s</c>.</summary>
    public string? Hold { get; init; }
    public VariantKind VariantKind { get; init; }

    /// <summary>At least one, in the order in which they are given. A task without sides has one without a name.</summary>
    public required IReadOnlyList<Variant> Variants { get; init; }
    public required TrialPlan Trials { get; init; }
    public IReadOnlyList<Response> Responses { get; init; } = [];
    public IReadOnlyList<Tick> Ticks { get; init; } = [];
    public IReadOnlyList<HelpRung> Help { get; init; } = [];

    /// <summary>The child answers to a touch: a hint would spoil it, so there is no help.</summary>
    public bool SensesTouch { get; init; }

    /// <summary>When to stop, in the author's words.</summary>
    public IReadOnlyList<string> StopWhen { get; init; } = [];

    /// <summary>When it isn't given, beside the skips of its section; the first that holds counts.</summary>
    public IReadOnlyList<SkipRule> Skips { get; init; } = [];

    /// <summary>The label of the task's note line, where the author asks for a particular note.</summary>
    public string? Note { get; init; }
    public Origin Origin { get; init; }

    public bool IsSided => VariantKind == VariantKind.Side;
}

public enum VariantKind
{
    None,
    Side,
    Place,
    Sound,
    Word,
}

/// <summary>One of the sides, places, sounds or words a task is given for.</summary>
/// <param name="Name">Empty for a task that has none; <c>right</c> and <c>left</c> are the child's own sides.</param>
public sealed record Variant(string Name, string Text, IReadOnlyList<string> Say, IReadOnlyList<string> Show);

public enum Keep
{
    Only,
    Highest,
    Lowest,
    First,
    Last,

    /// <summary>No trial is kept: one answer's mean over the trials is.</summary>
    Mean,
    Median,
    Sum,
}

/// <summary>How often a task is tried and which whole trial counts.</summary>
/// <param name="By">The response or measure that decides, for <see cref="Keep.Highest"/> and <see cref="Keep.Lowest"/>.</param>
/// <param name="FurtherWhen">A later trial is given only while this holds of the earlier; null: all are given.</param>
public sealed record TrialPlan(int Count, Keep Keep, string? By, FurtherTrial? FurtherWhen)
{
    /// <summary>True where trials are put together into one value of the answer <see cref="By"/> instead of one being kept.</summary>
    public bool IsCombined => Keep is Keep.Mean or Keep.Median or Keep.Sum;

    /// <summary>The trials given are enough for a mean, median or sum; else all of them are needed.</summary>
    public bool OfThoseGiven { get; init; }

    /// <summary>What a mean or median is rounded to; null where nothing can fall between two steps.</summary>
    public Rational? Step { get; init; }
}

/// <summary>The second trial is given when the response of the first is below this many points or steps' worth.</summary>
public sealed record FurtherTrial(string Response, Rational Below);

/// <summary>A rung of the ladder of help.</summary>
public sealed record HelpRung(string Text, Contact Contact)
{
    /// <summary>Points that what came of it loses; zero where help only stands beside the score.</summary>
    public Rational Cost { get; init; }

    /// <summary>
    /// What the original says, where <see cref="Text"/> is a translation: a record may name the help in either language. Null in
    /// the original.
    /// </summary>
    public string? Original { get; init; }

    /// <summary>True for these words, or the original's.</summary>
    public bool IsCalled(string words) => words == Text || words == Original;

    /// <summary>The rung the task begins on: it and those before are how the task is given, and no help.</summary>
    public bool IsStart { get; init; }
}

/// <summary>The ladder of help as rules use it.</summary>
public static class HelpLadder
{
    /// <summary>The name of the answer that says which help was given, where help has a cost.</summary>
    public const string Answer = "help";

    /// <summary>Ends the name of what came of a task with help.</summary>
    public const string With = "with-help";

    /// <summary>The name of the option that stands for no help.</summary>
    public const string None = "none";

    /// <summary>The task that is helped, from the name of what the program asks about its help; any other name as it is.</summary>
    public static string TaskOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return name.EndsWith("." + With, StringComparison.Ordinal) ? name[..^(With.Length + 1)] : name;
    }

    /// <summary>The rungs that are help: those after the start.</summary>
    public static IReadOnlyList<HelpRung> HelpRungs(this ProtocolTask task)
    {
        ArgumentNullException.ThrowIfNull(task);
        var start = task.Help.ToList().FindIndex(r => r.IsStart);
        return [.. task.Help.Skip(start + 1)];
    }

    /// <summary>True where help counts, less its cost; else unaided results score and aided ones stand beside.</summary>
    public static bool HelpHasCost(this ProtocolTask task)
    {
        ArgumentNullException.ThrowIfNull(task);
        return task.Help.Any(r => r.Cost.Sign > 0);
    }
}

/// <summary>An observation to tick at this task.</summary>
public sealed record Tick(Observation Observation, bool Qualitative);

public enum ResponseKind
{
    Rating,
    Count,
    Time,
    Quantity,
    YesNo,
    Choice,
    Direction,
}

public enum Spans
{
    Unstated,
    Intervals,
    Onsets,
}

public enum WeakSide
{
    Unstated,
    Same,
    Opposite,
}

/// <summary>
/// One answer a task asks for. Numbers are bounded whole multiples of <see cref="Step"/>; a rating is a
/// level of its scale; yes/no, choice and direction are options in the order written.
/// </summary>
public sealed record Response
{
    public required string Name { get; init; }
    public required ResponseKind Kind { get; init; }
    public Scale? Scale { get; init; }
    public IReadOnlyList<Option> Options { get; init; } = [];

    /// <summary>What is asked, where a yes-no line states it.</summary>
    public string? Question { get; init; }

    /// <summary>Hard bounds in the response's unit; for ratings the points of the lowest and highest level.</summary>
    public Rational Low { get; init; }
    public Rational High { get; init; }
    public Rational Step { get; init; } = 1;
    public Unit Unit { get; init; } = Unit.One;
    public Rational? PlausibleLow { get; init; }
    public Rational? PlausibleHigh { get; init; }
    public Better Better { get; init; }
    public Spans Spans { get; init; }
    public WeakSide WeakSide { get; init; }
    public bool Qualitative { get; init; }
    public Origin Origin { get; init; }

    public bool IsNumber => Kind is ResponseKind.Count or ResponseKind.Time or ResponseKind.Quantity;
    public bool HasOptions => Kind is ResponseKind.YesNo or ResponseKind.Choice or ResponseKind.Direction;
}

public sealed record Option(string Name, string Text);
