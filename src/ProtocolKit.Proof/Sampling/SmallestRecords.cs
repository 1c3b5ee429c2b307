using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Sampling;

/// <summary>The records closest to the flawless sheet (core.md R22) of a child of one age, complete, by what they come to.</summary>
public sealed class SmallestRecords(Protocol protocol, Age age, bool shortForm = false)
{
    private readonly Questions _questions = new(protocol, Reach.Limit);
    private readonly Part _part = new(new AgeRange(age, age), shortForm ? 1 : 0, Untried: false);

    /// <summary>The smallest record for which a measure or score has this value; null where none has.</summary>
    /// <exception cref="ArgumentException">There is no measure or score of this name with a step.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IReadOnlyList<long>? With(string outcome, Rational value) =>
        For(new RecordTarget.Total(outcome, value));

    /// <summary>The smallest record that comes to a target; null where none does.</summary>
    /// <exception cref="ArgumentException">The protocol has no such outcome, band or action.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IReadOnlyList<long>? For(RecordTarget target)
    {
        ArgumentNullException.ThrowIfNull(target);
        var (lines, fits) = target.In(protocol.Program, shortForm);
        var reach = _questions.Ask(_part, lines);
        var row = reach.Smallest(r => fits([.. lines.Select((_, i) => reach.Value(r, i))]));
        return row < 0 ? null : _questions.Witness(_part, reach, row, lines);
    }
}
