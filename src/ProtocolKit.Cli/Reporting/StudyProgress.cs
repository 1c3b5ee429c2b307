using ProtocolKit.Verification;

namespace ProtocolKit.Cli.Reporting;

/// <summary>A bar that fills while a study resamples; null where messages don't go to a terminal.</summary>
internal sealed class StudyProgress : IProgress<(int Done, int All)>
{
    private readonly IProgress<VerifyProgress> _bar;

    private StudyProgress(IProgress<VerifyProgress> bar) => _bar = bar;

    public static StudyProgress? Of(Terminal terminal) =>
        terminal.ProgressOf("scores") is { } bar ? new StudyProgress(bar) : null;

    public void Report((int Done, int All) value) => _bar.Report(new VerifyProgress(value.Done, value.All));
}
