namespace ProtocolKit.Emit.Studies;

/// <summary>A drawing in whole units of its own box; black on white, told apart by shape and dash alone.</summary>
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

/// <param name="Style">A class of the style sheet: <c>axis</c>, <c>grid</c>, <c>solid</c>, <c>dash</c> or <c>dot</c>.</param>
public sealed record ChartLine(int X1, int Y1, int X2, int Y2, string Style);

/// <param name="Points">As SVG wants them: <c>x,y x,y</c>.</param>
public sealed record ChartPath(string Points, string Style);

/// <param name="Style"><c>ring</c> or <c>dot-mark</c>.</param>
public sealed record ChartMark(int X, int Y, int R, string Style);

/// <param name="Anchor"><c>start</c>, <c>middle</c> or <c>end</c>.</param>
public sealed record ChartText(int X, int Y, string Anchor, string Text, int Turn = 0);
