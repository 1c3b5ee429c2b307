using System.Runtime.CompilerServices;

namespace ProtocolKit.Benchmarks.Batch;

/// <summary>
/// The rules of the starter protocol (src/ProtocolKit.Cli/Starter) as someone would write them by hand: one loop over the same
/// columns of fields, with what repeats told once. Wanted are both ends of every value, the bands, what is known of each
/// action, and the headline.
/// </summary>
internal static class StarterLoop
{
    private const int Undecided = 3;
    private const int NotApplicable = 4;

    /// <summary>The names of the lines it works out, in the order of its results.</summary>
    public static IReadOnlyList<string> Lines { get; } =
    [
        "pa-rate.low",
        "pa-rate.high",
        "lips-total.low",
        "lips-total.high",
        "tongue-total.low",
        "tongue-total.high",
        "movement-total.low",
        "movement-total.high",
        "band.movement-total",
        "band.pa-rate",
        "action.full-assessment.applies",
        "action.full-assessment.applies-not",
        "action.complete.applies",
        "action.complete.applies-not",
        "action.screen-again.applies",
        "action.screen-again.applies-not",
        "action.no-action.applies",
        "action.no-action.applies-not",
        "headline",
    ];

    /// <summary>Fields as the program of the starter numbers them: a rating has four (two trials, value and state), then its tick.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public static void Run(long[][] fields, int count, long[][] results)
    {
        var ages = fields[0];
        var (kiss, smile, tongueOut) = (new Rating(fields, 2), new Rating(fields, 7), new Rating(fields, 12));
        var (right, left) = (new Rating(fields, 17), new Rating(fields, 22));
        var (first, second) = (new Pace(fields, 27), new Pace(fields, 29));
        var (paLows, paHighs) = (results[0], results[1]);
        var (lipsLows, lipsHighs) = (results[2], results[3]);
        var (tongueLows, tongueHighs) = (results[4], results[5]);
        var (lows, highs, movements, paces) = (results[6], results[7], results[8], results[9]);
        var actions = new Actions(results);
        for (var row = 0; row < count; row++)
        {
            var best = Math.Max(first.At(row), second.At(row));
            var (paLow, paHigh) = best < 0 ? (0, PerSecond(60, 5)) : (best, best);
            var (kissLow, kissHigh) = kiss.At(row);
            var (smileLow, smileHigh) = smile.At(row);
            var (outLow, outHigh) = tongueOut.At(row);
            var (rightLow, rightHigh) = right.At(row);
            var (leftLow, leftHigh) = left.At(row);
            var (lipsLow, lipsHigh) = (kissLow + smileLow, kissHigh + smileHigh);
            var (tongueLow, tongueHigh) = (outLow + rightLow + leftLow, outHigh + rightHigh + leftHigh);
            var (low, high) = (lipsLow + tongueLow, lipsHigh + tongueHigh);
            var age = ages[row];
            var movement =
                age is < 48 or > 83 ? NotApplicable
                : age < 60 ? Band(low, high, 5, 8)
                : Band(low, high, 6, 9);
            var pace = age is < 48 or > 83 ? NotApplicable : Band(paLow, paHigh, 25, 35);
            (paLows[row], paHighs[row]) = (paLow, paHigh);
            (lipsLows[row], lipsHighs[row]) = (lipsLow, lipsHigh);
            (tongueLows[row], tongueHighs[row]) = (tongueLow, tongueHigh);
            (lows[row], highs[row]) = (low, high);
            (movements[row], paces[row]) = (movement, pace);
            actions.Decide(movement, pace, row);
        }
    }

    private readonly struct Actions(long[][] results)
    {
        private readonly long[] _full = results[10];
        private readonly long[] _fullNot = results[11];
        private readonly long[] _complete = results[12];
        private readonly long[] _completeNot = results[13];
        private readonly long[] _again = results[14];
        private readonly long[] _againNot = results[15];
        private readonly long[] _none = results[16];
        private readonly long[] _noneNot = results[17];
        private readonly long[] _headlines = results[18];

        public void Decide(int movement, int pace, int row)
        {
            var isUndecided = movement == Undecided || pace == Undecided;
            var full = movement == 0 || pace == 0;
            var again = movement == 1 || pace == 1;
            var none = !full && !isUndecided && !again;
            _full[row] = full ? 1 : 0;
            _fullNot[row] = full || isUndecided ? 0 : 1;
            _complete[row] = isUndecided ? 1 : 0;
            _completeNot[row] = isUndecided ? 0 : 1;
            _again[row] = again ? 1 : 0;
            _againNot[row] = again || isUndecided ? 0 : 1;
            _none[row] = none ? 1 : 0;
            _noneNot[row] = none ? 0 : 1;
            _headlines[row] =
                full ? 0
                : isUndecided ? 1
                : again ? 2
                : 3;
        }
    }

    /// <summary>The better of two trials, or all that an untried one could be.</summary>
    private readonly struct Rating(long[][] fields, int at)
    {
        private readonly long[] _first = fields[at];
        private readonly long[] _firstState = fields[at + 1];
        private readonly long[] _second = fields[at + 2];
        private readonly long[] _secondState = fields[at + 3];

        public (long Low, long High) At(int row)
        {
            var (first, second) = (_first[row], _second[row]);
            var isFirst = _firstState[row] == 0;
            if (_secondState[row] == 0 && (!isFirst || second > first))
            {
                return (second, second);
            }

            return isFirst ? (first, first) : (0, 2);
        }
    }

    /// <summary>Syllables in a second of one trial, in tenths, rounded half up; -1 where it is untried.</summary>
    private readonly struct Pace(long[][] fields, int at)
    {
        private readonly long[] _syllables = fields[at];
        private readonly long[] _syllablesState = fields[at + 1];
        private readonly long[] _time = fields[at + 4];
        private readonly long[] _timeState = fields[at + 5];

        public long At(int row) =>
            _syllablesState[row] == 0 && _timeState[row] == 0 ? PerSecond(_syllables[row], _time[row]) : -1;
    }

    private static long PerSecond(long syllables, long tenths) => (syllables * 200 + tenths) / (tenths * 2);

    private static int Band(long low, long high, long again, long expected)
    {
        var (worst, best) = (Band(low, again, expected), Band(high, again, expected));
        return worst == best ? worst : Undecided;
    }

    private static int Band(long value, long again, long expected) =>
        value < again ? 0
        : value < expected ? 1
        : 2;
}
