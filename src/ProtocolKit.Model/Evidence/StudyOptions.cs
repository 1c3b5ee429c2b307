namespace ProtocolKit.Model;

/// <summary>What a study was asked for.</summary>
public sealed record StudyOptions
{
    /// <summary>Names of measures and scores; empty for all that the protocol bands.</summary>
    public IReadOnlyList<string> Scores { get; init; } = [];

    /// <summary>Of intervals, between 0.5 and 1.</summary>
    public double Confidence { get; init; } = 0.95;

    /// <summary>The same seed gives the same bytes, on any number of threads.</summary>
    public ulong Seed { get; init; } = 1;

    public int Resamples { get; init; } = 2000;

    /// <summary>How many threads may resample; the bytes are the same with any number.</summary>
    public int Threads { get; init; } = 2;

    /// <summary>The share of children who need help where the screen will be used, for predictive values.</summary>
    public double Prevalence { get; init; } = 0.1;

    /// <summary>The least sensitivity a cut should keep.</summary>
    public double Sensitivity { get; init; } = 0.9;

    /// <summary>How many false alarms one missed child is worth.</summary>
    public double MissCost { get; init; } = 5;

    /// <summary>Agreement weights of the clinic's own for kappa, from the lowest level: 1 for the same, less for others. Empty for none.</summary>
    public IReadOnlyList<IReadOnlyList<double>> KappaWeights { get; init; } = [];

    /// <summary>A column of groups, such as <c>sex</c>, that norms are split by; null for none.</summary>
    public string? By { get; init; }
}
