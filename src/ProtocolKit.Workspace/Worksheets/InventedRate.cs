using ProtocolKit.Model;

namespace ProtocolKit.Workspace.Worksheets;

/// <summary>A count over a time, as an invented child might come to.</summary>
/// <param name="Counted">As counted in the room.</param>
internal sealed record InventedRate(
    string Title,
    Response Response,
    long Counted,
    Rational Seconds,
    Rational Step
)
{
    /// <summary>What a student wrote.</summary>
    public Rational Written { get; init; }

    /// <summary>What is divided: intervals, one fewer than onsets.</summary>
    public long Events => Response.Spans == Spans.Onsets ? Counted - 1 : Counted;

    public string InWords =>
        $"{Counted} {Response.Name} in {Seconds} s, the count spans {(Response.Spans == Spans.Onsets ? "onsets" : "intervals")}";

    public Rational Exact(long events) => new Rational(events, 1) / Seconds;

    /// <summary>Rounded once, a half upwards, to the measure's step.</summary>
    public Rational Of(long events) => new Rational((Exact(events) / Step).RoundHalfUp(), 1) * Step;

    /// <summary>Null where no measure of the protocol is a counted answer over a timed one of the same task.</summary>
    public static InventedRate? Of(CaseSource source)
    {
        var program = source.Protocol.Program;
        var rates = new List<(Outcome Outcome, Response Count, Response Time)>();
        foreach (var outcome in program.Outcomes.Where(o => !o.Outcome.IsScore && o.Outcome.Step is not null))
        {
            var read = program.Kept.Where(k => outcome.Reads.Contains(k.Key)).ToList();
            var count = read.Find(k =>
                k.Response.Kind == ResponseKind.Count && k.Response.Spans != Spans.Unstated
            );
            var time = read.Find(k => k.Response.Kind == ResponseKind.Time);
            if (
                read.Count == 2
                && count is not null
                && time is not null
                && outcome.Outcome.Formula.Contains('/', StringComparison.Ordinal)
            )
            {
                rates.Add((outcome.Outcome, count.Response, time.Response));
            }
        }

        if (rates.Count == 0)
        {
            return null;
        }

        var (measure, counted, timed) = source.Generator.OneOf(rates);
        var low = timed.PlausibleLow ?? timed.Low;
        var high = timed.PlausibleHigh ?? timed.High;
        var steps = ((high - low) / timed.Step).RoundHalfUp();
        var seconds = low + (timed.Step * new Rational((long)source.Generator.Below(steps + 1), 1));
        var most = counted.High.Numerator / counted.High.Denominator;
        var number = source.Generator.Between(2, (long)most / 2);
        return new InventedRate(measure.Title, counted, number, seconds, measure.Step!.Value);
    }
}
