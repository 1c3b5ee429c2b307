using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;
using ProtocolKit.Proof.Sampling;

namespace ProtocolKit.Proof;

/// <summary>
/// How many different records of a child of one age give each total, band, headline or action. Exact, however many.
/// </summary>
/// <param name="protocol">A compiled protocol.</param>
/// <param name="age">One of its ages.</param>
/// <param name="shortForm">Whether records are of the short form.</param>
/// <param name="untried">Whether answers may be untried; else every one is given.</param>
public sealed class RecordCounter(Protocol protocol, Age age, bool shortForm = false, bool untried = false)
{
    private readonly Questions _questions = new(protocol, Reach.Limit);
    private readonly Part _part = new(new AgeRange(age, age), shortForm ? 1 : 0, untried);

    /// <summary>By the values a line of the scoring program takes.</summary>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IReadOnlyDictionary<long, BigInteger> ByLine(int line)
    {
        var reach = new Reach(
            _questions.GraphOf(_part),
            _questions.Space(_part),
            [_questions.Line(_part, line)],
            _questions.Related(_part),
            counts: true
        );
        var counts = new SortedDictionary<long, BigInteger>();
        for (var row = 0; row < reach.Count; row++)
        {
            counts[reach.Value(row, 0)] = reach.Ways(row);
        }

        return counts;
    }

    /// <summary>By the value of a measure or score with a step; what is not applicable or blocked counts at its lower end.</summary>
    /// <exception cref="ArgumentException">There is no measure or score of this name with a step.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IReadOnlyDictionary<Rational, BigInteger> ByValue(string outcome)
    {
        var lines = RecordTarget.OutcomeOf(protocol.Program, outcome);
        return new SortedDictionary<Rational, BigInteger>(
            ByLine(lines.LowLine).ToDictionary(c => c.Key * lines.Scale, c => c.Value)
        );
    }

    /// <summary>
    /// By the band a cut-off table gives, from the worst; then <c>undecided</c>, <c>not applicable</c>, <c>blocked</c> and
    /// <c>in no band</c>. What no record comes to is there with 0.
    /// </summary>
    /// <exception cref="ArgumentException">There are no cut-offs of this measure or score for the form.</exception>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IReadOnlyList<(string Band, BigInteger Records)> ByBand(string outcome)
    {
        var table =
            RecordTarget.TableOf(protocol.Program, outcome, shortForm)
            ?? throw new ArgumentException($"There are no cut-offs of {outcome}.", nameof(outcome));
        var counts = ByLine(table.Line);
        return
        [
            .. table
                .Table.Bands.Select(b => b.Name)
                .Concat(RecordTarget.NoBand)
                .Select((name, code) => (name, counts.GetValueOrDefault(code))),
        ];
    }

    /// <summary>By the first action that applies, in the order of the list.</summary>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IReadOnlyList<(string Action, BigInteger Records)> ByHeadline()
    {
        var counts = ByLine(protocol.Program.HeadlineLine);
        return [.. protocol.Program.Actions.Select((a, i) => (a.Action.Name, counts.GetValueOrDefault(i)))];
    }

    /// <summary>By each action that surely applies, be it the first or not: records may count at several.</summary>
    /// <exception cref="ProofLimitException">There are too many cases to keep apart.</exception>
    public IReadOnlyList<(string Action, BigInteger Records)> ByAction() =>
        [
            .. protocol.Program.Actions.Select(a =>
                (a.Action.Name, ByLine(a.AppliesLine).GetValueOrDefault(1))
            ),
        ];
}
