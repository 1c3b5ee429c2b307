namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>Jaw, lips and tongue: their totals, the weaker side, and the tongue's place among ten of the age.</summary>
internal sealed class ExampleMovements(ExampleAnswers answers, ExampleResults results, ExampleRows rows)
{
    private static readonly long[][] Tenths = [Places(3, 5, 7, 9), Places(2, 4, 6, 8), Places(1, 3, 5, 7)];

    private readonly BestOfTwo _slowOpen = answers.Rating("slow-open.rate");
    private readonly BestOfTwo _slideRight = answers.Rating("jaw-slide.rate.right");
    private readonly BestOfTwo _slideLeft = answers.Rating("jaw-slide.rate.left");
    private readonly BestOfTwo _biteRight = answers.Rating("bite-firm.rate.right");
    private readonly BestOfTwo _biteLeft = answers.Rating("bite-firm.rate.left");
    private readonly BestOfTwo _smallGap = answers.Rating("small-gap-steady.rate");
    private readonly BestOfTwo[] _lips =
    [
        answers.Rating("kiss.rate"),
        answers.Rating("wide-smile.rate"),
        answers.Rating("seal-five-seconds.rate"),
        answers.Rating("puff-against-finger.rate.right"),
        answers.Rating("puff-against-finger.rate.left"),
        answers.Rating("strip-grip.rate"),
        answers.Rating("lip-under-teeth.rate"),
    ];
    private readonly BestOfTwo[] _tongue =
    [
        answers.Rating("tongue-out.rate"),
        answers.Rating("tip-nose.rate"),
        answers.Rating("tip-chin.rate"),
        answers.Rating("tip-ridge.rate"),
        answers.Rating("back-lift.rate"),
        answers.Rating("forward-press.rate"),
    ];
    private readonly BestOfTwo _cornerRight = answers.Rating("tip-corner.rate.right");
    private readonly BestOfTwo _cornerLeft = answers.Rating("tip-corner.rate.left");
    private readonly BestOfTwo _bulgeRight = answers.Rating("cheek-bulge-press.rate.right");
    private readonly BestOfTwo _bulgeLeft = answers.Rating("cheek-bulge-press.rate.left");

    private readonly Value _jawTotal = results.Of("jaw-total");
    private readonly Value _lipsTotal = results.Of("lips-total");
    private readonly Value _tongueTotal = results.Of("tongue-total");
    private readonly Value _tonguePlace = results.Of("tongue-place-in-ten");
    private readonly Value _jawSides = results.Of("jaw-sides");
    private readonly Value _tongueSides = results.Of("tongue-sides");

    private readonly ExampleBands _jawBands = new(
        results,
        rows,
        "jaw-total",
        (6, 8),
        (7, 9),
        (8, 10),
        (2, 4),
        (3, 5),
        (3, 5)
    );
    private readonly ExampleBands _lipsBands = new(
        results,
        rows,
        "lips-total",
        (7, 9),
        (8, 10),
        (10, 12),
        (2, 4),
        (3, 5),
        (3, 5)
    );
    private readonly ExampleBands _tongueBands = new(
        results,
        rows,
        "tongue-total",
        (9, 12),
        (11, 14),
        (14, 17),
        (6, 9),
        (8, 11),
        (8, 11)
    );

    public void Run(int from, int to)
    {
        Jaw(from, to);
        Lips(from, to);
        Tongue(from, to);
    }

    private void Jaw(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            var (slow, gap) = (_slowOpen.At(row), _smallGap.At(row));
            var (right, left) = (_slideRight.At(row), _slideLeft.At(row));
            var (biteRight, biteLeft) = (_biteRight.At(row), _biteLeft.At(row));
            var low = slow.Low + gap.Low + right.Low + left.Low + biteRight.Low + biteLeft.Low;
            var high = slow.High + gap.High + right.High + left.High + biteRight.High + biteLeft.High;
            _jawTotal.Put(row, 0, low, high);
            rows.Totals[row] |= 1L << (int)(_jawBands.Put(row, low, high) * 8);
            Sides(_jawSides, row, right, left, biteRight, biteLeft);
        }
    }

    private void Lips(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            var (low, high) = Sum(_lips, row);
            _lipsTotal.Put(row, 0, low, high);
            rows.Totals[row] |= 1L << (int)(_lipsBands.Put(row, low, high) * 8);
        }
    }

    private void Tongue(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            var (low, high) = Sum(_tongue, row);
            var (right, left) = (_cornerRight.At(row), _cornerLeft.At(row));
            var (bulgeRight, bulgeLeft) = (_bulgeRight.At(row), _bulgeLeft.At(row));
            low += right.Low + left.Low + bulgeRight.Low + bulgeLeft.Low;
            high += right.High + left.High + bulgeRight.High + bulgeLeft.High;
            _tongueTotal.Put(row, 0, low, high);
            rows.Totals[row] |= 1L << (int)(_tongueBands.Put(row, low, high) * 8);
            Sides(_tongueSides, row, right, left, bulgeRight, bulgeLeft);
            var group = rows.Group[row];
            if (group == ExampleRows.Outside)
            {
                _tonguePlace.Put(row, 1, 0, 0);
            }
            else
            {
                var places = Tenths[group % 3];
                _tonguePlace.Put(row, 0, places[low], places[high]);
            }
        }
    }

    private static (long Low, long High) Sum(BestOfTwo[] ratings, int row)
    {
        var (low, high) = (0L, 0L);
        foreach (ref readonly var rating in ratings.AsSpan())
        {
            var ends = rating.At(row);
            low += ends.Low;
            high += ends.High;
        }

        return (low, high);
    }

    /// <summary>Left minus right; without one of the sides there is no difference, and the gravest reason says why.</summary>
    private static void Sides(Value sides, int row, Ends right, Ends left, Ends pressRight, Ends pressLeft)
    {
        var state = Math.Max(Math.Max(right.State, left.State), Math.Max(pressRight.State, pressLeft.State));
        var difference = left.Low - right.Low + pressLeft.Low - pressRight.Low;
        // A press that isn't part of the form counts for neither side.
        sides.Put(row, state == 1 ? 0 : state, difference, difference);
    }

    private static long[] Places(long from9, long from12, long from15, long from18) =>
        [
            .. Enumerable
                .Range(0, 21)
                .Select(total =>
                    total < 9 ? 1
                    : total < 12 ? from9
                    : total < 15 ? from12
                    : total < 18 ? from15
                    : total < 20 ? from18
                    : 10
                ),
        ];
}
