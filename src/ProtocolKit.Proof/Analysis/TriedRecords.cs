using ProtocolKit.Model;
using ProtocolKit.Proof.Records;
using ProtocolKit.Scoring;

namespace ProtocolKit.Proof.Analysis;

/// <summary>
/// Records of one part, scored: first a few plain ones, then some drawn. One that shows what is asked settles whether there is any; where
/// none does, nothing is said. The draw is the same on every machine.
/// </summary>
internal sealed class TriedRecords(Questions questions, Part part)
{
    private const int Plain = 5;
    private const int Most = 40;

    // How often an answer is at its worst, how often it is untried, and how often a sign is seen, of a hundred.
    private static readonly (int Worst, int Untried, int Seen)[] Kinds =
    [
        (10, 0, 0),
        (30, 0, 10),
        (50, 0, 40),
        (10, 5, 0),
        (40, 15, 20),
        (90, 2, 80),
        (5, 1, 90),
        (20, 50, 50),
    ];

    private readonly List<long[]> _scored = [];
    private readonly Xoshiro256 _generator = new(1);
    private readonly RecordSpace _space = questions.Space(part);

    /// <summary>Whether one of them shows it; gives up after some.</summary>
    /// <param name="shows">Of every line of the program.</param>
    public bool Show(Predicate<long[]> shows)
    {
        if (_scored.Exists(shows))
        {
            return true;
        }

        while (_scored.Count < Most)
        {
            _scored.Add(Evaluator.Run(questions.Program, Next(_scored.Count)));
            if (shows(_scored[^1]))
            {
                return true;
            }
        }

        return false;
    }

    private long[] Next(int number)
    {
        var fields = (long[])_space.Baseline.Clone();
        fields[questions.Program.AgeField] = part.Ages.From.Months;
        for (var i = 1; i < _space.Leaves.Count; i++)
        {
            if (number < Plain)
            {
                FillPlainly(fields, i, number);
            }
            else
            {
                FillByDraw(fields, _space.Leaves[i], Kinds[(number - Plain) % Kinds.Length]);
            }
        }

        _space.Settle(fields, f => f != questions.Program.AgeField);
        return fields;
    }

    /// <summary>All at their best, all at their worst, and some between.</summary>
    private void FillPlainly(long[] fields, int index, int kind)
    {
        var leaf = _space.Leaves[index];
        var isWorst = kind switch
        {
            0 => false,
            1 => true,
            2 => index % 2 == 0,
            3 => index < _space.Leaves.Count / 2,
            _ => index % 3 == 0,
        };
        if (isWorst && !leaf.IsObservation && leaf.Order != 0)
        {
            fields[leaf.ValueField] = leaf.Order > 0 ? leaf.Low : leaf.High;
        }
    }

    private void FillByDraw(long[] fields, Leaf leaf, (int Worst, int Untried, int Seen) kind)
    {
        var draw = (int)_generator.Below(100);
        if (leaf.IsObservation)
        {
            var isLooked = !_space.HasUntried || (int)_generator.Below(100) >= kind.Untried;
            fields[leaf.ValueField] =
                !isLooked ? 0
                : draw < kind.Seen ? 2
                : 1;
        }
        else if (_space.HasUntried && leaf.StateField >= 0 && draw < kind.Untried)
        {
            var reason = States.Untried[(int)_generator.Below((ulong)States.Untried.Count)].State;
            (fields[leaf.StateField], fields[leaf.ValueField]) = ((long)reason, leaf.Low);
        }
        else if (leaf.Order == 0)
        {
            fields[leaf.ValueField] = leaf.Low + (long)_generator.Below((ulong)(leaf.High - leaf.Low + 1));
        }
        else if (draw >= 100 - kind.Worst)
        {
            fields[leaf.ValueField] = leaf.Order > 0 ? leaf.Low : leaf.High;
        }
    }
}
