using ProtocolKit.Language.Diagnostics;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// A small text can ask for a huge protocol: families in every task, tasks in every sum. Beyond a bound far above any
/// real protocol it is refused instead of filling the memory.
/// </summary>
/// <param name="spent">What was spent before.</param>
internal sealed class WorkLimit(DiagnosticBag diagnostics, long spent = 0)
{
    private const long Most = 250_000;
    private bool _told;

    public long Spent { get; set; } = spent;

    /// <summary>More was asked for than is bearable.</summary>
    public bool IsExceeded => Spent > Most;

    /// <summary>False, after reporting once, where answers, texts and parts of sums come to more than is bearable.</summary>
    public bool Spend(long amount, SourceText source, Place place)
    {
        Spent += amount;
        if (Spent <= Most)
        {
            return true;
        }

        if (!_told)
        {
            diagnostics.Report(source, place, MeaningMessages.TooMuch(Most));
        }

        _told = true;
        return false;
    }
}
