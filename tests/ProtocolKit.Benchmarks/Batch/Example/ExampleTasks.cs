namespace ProtocolKit.Benchmarks.Batch.Example;

/// <summary>The order of movements and the touches.</summary>
internal sealed class ExampleTasks(ExampleAnswers answers, ExampleResults results, ExampleRows rows)
{
    private readonly Single _firstPair = answers.One("first-pair.choice", 3);
    private readonly Single _secondPair = answers.One("second-pair.choice", 3);
    private readonly Single _pausePair = answers.One("pair-after-pause.choice", 3);
    private readonly Single[] _touches =
    [
        answers.One("cheek-place.felt.right", 4),
        answers.One("cheek-place.felt.left", 4),
        answers.One("lip-place.felt.right", 4),
        answers.One("lip-place.felt.left", 4),
        answers.One("tongue-place.felt.right", 4),
        answers.One("tongue-place.felt.left", 4),
        answers.One("one-or-two.felt", 6),
        answers.One("edge-or-round.felt", 4),
    ];

    private readonly Value _firstPoints = results.Of("first-points");
    private readonly Value _secondPoints = results.Of("second-points");
    private readonly Value _pausePoints = results.Of("pause-points");
    private readonly Value _orderTotal = results.Of("order-total");
    private readonly Value _touchTotal = results.Of("touch-total");

    private readonly ExampleBands _orderBands = new(
        results,
        rows,
        "order-total",
        (1, 3),
        (2, 4),
        (3, 5),
        (0, 1),
        (1, 2),
        (1, 2)
    );
    private readonly ExampleBands _touchBands = new(
        results,
        rows,
        "touch-total",
        (17, 22),
        (19, 25),
        (22, 28),
        (7, 10),
        (9, 12),
        (9, 12)
    );

    public void Run(int from, int to)
    {
        for (var row = from; row < to; row++)
        {
            var first = Points(_firstPair.At(row));
            var second = Points(_secondPair.At(row));
            var pause = Points(_pausePair.At(row));
            _firstPoints.Put(row, first.State, first.Low, first.High);
            _secondPoints.Put(row, second.State, second.Low, second.High);
            _pausePoints.Put(row, pause.State, pause.Low, pause.High);
            var low = first.Low + second.Low + pause.Low;
            var high = first.High + second.High + pause.High;
            _orderTotal.Put(row, 0, low, high);
            rows.Totals[row] |= 1L << (int)(_orderBands.Put(row, low, high) * 8);
        }

        for (var row = from; row < to; row++)
        {
            var (low, high) = (0L, 0L);
            foreach (ref readonly var touch in _touches.AsSpan())
            {
                var ends = touch.At(row);
                low += ends.Low;
                high += ends.High;
            }

            _touchTotal.Put(row, 0, low, high);
            rows.Totals[row] |= 1L << (int)(_touchBands.Put(row, low, high) * 8);
        }
    }

    /// <summary>As shown is 2; swapped, or one of the two, is 1; neither is 0.</summary>
    private static Ends Points(Ends choice) =>
        choice.State switch
        {
            0 => Ends.Of(
                choice.Low == 0 ? 2
                : choice.Low < 3 ? 1
                : 0
            ),
            1 => choice,
            _ => new Ends(0, 0, 2),
        };
}
