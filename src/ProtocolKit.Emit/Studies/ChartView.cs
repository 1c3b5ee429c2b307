namespace ProtocolKit.Emit.Studies;

/// <summary>A drawing in whole units of its own box; black on white, told apart by shape and dash alone.</summary>
/// <param name="Title">Of the picture.</param>
/// <param name="InWords">What the picture shows, for who can’t see it.</param>
/// <param name="Width">In the picture’s own units.</param>
/// <param name="Height">In the picture’s own units.</param>
/// <param name="Lines">Axes, grids and bars.</param>
/// <param name="Paths">Curves.</param>
/// <param name="Marks">Points.</param>
/// <param name="Texts">Labels.</param>
public sealed record ChartView(
    string Title,
    string InWords,
    int Width,
    int Height,
    IReadOnlyList<ChartLine> Lines,
    IReadOnlyList<ChartPath> Paths,
    IReadOnlyList<ChartMark> Marks,
    IReadOnlyList<ChartText> Texts
);

/// <param name="X1">Where it begins, from the left.</param>
/// <param name="Y1">Where it begins, from the top.</param>
/// <param name="X2">Where it ends, from the left.</param>
/// <param name="Y2">Where it ends, from the top.</param>
/// <param name="Style">A class of the style sheet: <c>axis</c>, <c>grid</c>, <c>solid</c>, <c>dash</c> or <c>dot</c>.</param>
public sealed record ChartLine(int X1, int Y1, int X2, int Y2, string Style);

/// <param name="Points">As SVG wants them: <c>x,y x,y</c>.</param>
/// <param name="Style">A class of the style sheet.</param>
public sealed record ChartPath(string Points, string Style);

/// <param name="X">From the left.</param>
/// <param name="Y">From the top.</param>
/// <param name="R">Its radius.</param>
/// <param name="Style"><c>ring</c> or <c>dot-mark</c>.</param>
public sealed record ChartMark(int X, int Y, int R, string Style);

/// <param name="X">From the left.</param>
/// <param name="Y">From the top.</param>
/// <param name="Anchor"><c>start</c>, <c>middle</c> or <c>end</c>.</param>
/// <param name="Text">The label.</param>
/// <param name="Turn">In degrees; 0 is upright.</param>
public sealed record ChartText(int X, int Y, string Anchor, string Text, int Turn = 0);
