namespace ProtocolKit.Calibration;

/// <summary>A confidence interval, both limits included. Never NaN; a limit may be infinite where the method says so.</summary>
public readonly record struct Interval(double Low, double High)
{
    /// <summary>estimate ± half width.</summary>
    public static Interval Around(double estimate, double halfWidth) =>
        new(estimate - halfWidth, estimate + halfWidth);

    /// <summary>The same interval cut to the possible range of the figure.</summary>
    public Interval Within(double least, double most) =>
        new(Math.Clamp(Low, least, most), Math.Clamp(High, least, most));

    /// <summary>A monotone increasing function of both limits.</summary>
    public Interval Map(Func<double, double> function) => new(function(Low), function(High));
}
