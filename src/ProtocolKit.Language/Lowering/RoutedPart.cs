using ProtocolKit.Language.Binding;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Lowering;

/// <summary>A task, or one side or place of it, on its way to being given or not.</summary>
internal sealed class RoutedPart(BoundTask bound, Variant variant, IReadOnlyList<AnswerGroup> groups)
{
    public BoundTask Bound => bound;
    public ProtocolTask Task => bound.Task;
    public Variant Variant => variant;
    public IReadOnlyList<AnswerGroup> Groups => groups;

    public string Name { get; } =
        variant.Name.Length == 0 ? bound.Task.Name : $"{bound.Task.Name}.{variant.Name}";

    /// <summary>The answer that stop rules and start points look at; null where the task isn't rated.</summary>
    public AnswerGroup? Rating { get; } =
        groups.FirstOrDefault(g => g.Response is { Kind: ResponseKind.Rating, Name: "rate" })
        ?? groups.FirstOrDefault(g => g.Response.Kind == ResponseKind.Rating);

    /// <summary>Kept answers as they were before routing.</summary>
    public IReadOnlyList<KeptAnswer> Raw { get; set; } = [];

    /// <summary>Its lines are being made: whoever asks about it now goes round in a circle.</summary>
    public bool IsOpen { get; set; }
    public bool IsSettled { get; set; }

    /// <summary>A <see cref="Giving"/> from form, gates and skips alone.</summary>
    public IntExpr Why { get; set; } = IntMath.Number(0);

    /// <summary>How many given tasks in a row were rated lowest before it; null before the first.</summary>
    public IntExpr? RunBefore { get; set; }

    /// <summary>The poorest and the best of the rating as it is kept; null where there is none, or neither end is better.</summary>
    public (long Poorest, long Best)? RatingEnds =>
        Rating is { } rating ? Ends.Of(rating.Response, Raw[Groups.ToList().IndexOf(rating)].Steps) : null;

    /// <summary>True where the rating as given, before routing, is this level of its field.</summary>
    public BoolExpr IsRated(long level) =>
        Rating is { } rating && Raw[Groups.ToList().IndexOf(rating)] is var kept
            ? Bools.And(Bools.Equal(kept.State, 0), Bools.Equal(kept.Low, level))
            : Bools.False;
}

/// <summary>The ends of an answer that credits use.</summary>
internal static class Ends
{
    /// <summary>The poorest and the best value of an answer's field; null where neither end is better.</summary>
    /// <param name="steps">Where the kept value counts in steps of its own.</param>
    public static (long Poorest, long Best)? Of(Response response, KeptSteps? steps)
    {
        var (low, high) = steps is null ? Encoding.Bounds(response) : (steps.Low, steps.High);
        return BetterOf(response) switch
        {
            _ when response.HasOptions => null,
            Better.Higher => (low, high),
            Better.Lower => (high, low),
            _ => null,
        };
    }

    public static Better BetterOf(Response response) =>
        response.Better == Better.Unstated && response.Scale is { } scale ? scale.Better : response.Better;
}
