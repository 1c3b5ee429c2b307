using ProtocolKit.Model;

namespace ProtocolKit.Emit.Tests.Paper;

/// <summary>
/// Thirty tasks of changing shape. Words such as <c>TOP07</c> mark where a task, a note or a side of a card
/// came out on paper.
/// </summary>
internal static class GeometryProtocol
{
    public const int Count = 30;

    public static Protocol Value { get; } =
        SampleProtocol.Of(Enumerable.Range(1, Count).Select(Task).ToList()) with
        {
            Title = "Geometry",
        };

    public static string Mark(string word, int number) => FormattableString.Invariant($"{word}{number:00}");

    private static ProtocolTask Task(int number)
    {
        var shape = SampleProtocol.Full.Tasks[number % SampleProtocol.Full.Tasks.Count];
        return shape with
        {
            Number = number,
            Name = $"task-{number}",
            Title = $"{Mark("TOP", number)} {shape.Title}",
            Note = Mark("NOTE", number),
            Variants = shape
                .Variants.Select(v => v with { Say = [Mark("SPOKEN", number), .. v.Say] })
                .ToList(),
            StopWhen = [Mark("BEHIND", number), .. shape.StopWhen],
        };
    }
}
