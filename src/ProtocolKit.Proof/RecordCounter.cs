using System.Numerics;
using ProtocolKit.Model;
using ProtocolKit.Proof.Analysis;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof;

/// <summary>How many different records of a child of one age give each total, band or headline. Exact, however many.</summary>
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
        var lines =
            protocol.Program.Outcomes.FirstOrDefault(o =>
                o.Outcome.Name == outcome && o.LowDenominatorLine < 0
            ) ?? throw new ArgumentException($"There is no {outcome} with a step.", nameof(outcome));
        return new SortedDictionary<Rational, BigInteger>(
            ByLine(lines.LowLine).ToDictionary(c => c.Key * lines.Scale, c => c.Value)
        );
    }
}
