using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Sampling;

/// <summary>The records closest to the flawless sheet (core.md R22) of a child of one age, by what they come to.</summary>
/// <param name="protocol">A compiled protocol.</param>
/// <param name="age">One of its ages.</param>
/// <param name="shortForm">Whether records are of the short form.</param>
/// <param name="untried">Whether answers may be untried, where no complete record comes to what is asked for.</param>
public sealed class SmallestRecords(Protocol protocol, Age age, bool shortForm = false, bool untried = false)
{
    private readonly Questions _questions = new(protocol, Reach.Limit);

    /// <summary>The smallest record that comes to a target; null where none does.</summary>
    /// <returns>One value per field of the scoring program.</returns>
    /// <exception cref="ArgumentException">The protocol has no such outcome, band or action.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public long[]? For(RecordTarget target)
    {
        ArgumentNullException.ThrowIfNull(target);
        return Smallest(target, isUntried: false) ?? (untried ? Smallest(target, isUntried: true) : null);
    }

    private long[]? Smallest(RecordTarget target, bool isUntried)
    {
        var part = new Part(new AgeRange(age, age), shortForm ? 1 : 0, isUntried);
        var (lines, fits) = target.In(protocol.Program, shortForm);
        var reach = _questions.Ask(part, lines);
        var row = reach.Smallest(r => fits([.. lines.Select((_, i) => reach.Value(r, i))]));
        return row < 0 ? null : _questions.Witness(part, reach, row, lines);
    }
}
