using ProtocolKit.Model;
using ProtocolKit.Testing;
using ProtocolKit.TestPrograms;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification.Tests;

/// <summary>A target on its way through records, with engines that do as they are told.</summary>
public class TargetRunTests
{
    private static readonly Protocol Screen = SampleScreen.Protocol();

    [Fact]
    public void An_engine_that_gives_no_answer_in_time_is_not_run_and_does_not_differ()
    {
        var engine = new Told(_ => throw new TargetFaultException("no answer in time") { IsSilence = true });

        var report = Run(engine, records: 10);

        Assert.Equal((Agreement.NotRun, 0), (report.Agreement, report.Records));
        Assert.Equal("no answer in time", report.Reason);
        Assert.Null(report.Difference);
        Assert.False(report.IsMissing);
    }

    [Fact]
    public void What_was_found_to_differ_stays_so_when_the_engine_falls_silent_afterwards()
    {
        var asked = 0;
        var engine = new Told(trials =>
            asked++ == 0
                ? [.. trials.Select(_ => new TargetAnswer(SaidNumbers.Read(""), SaidNumbers.Read(""), []))]
                : throw new TargetFaultException("no answer in time") { IsSilence = true }
        );

        Assert.Equal(Agreement.Differs, Run(engine, records: 10).Agreement);
    }

    [Fact]
    public void Of_more_records_than_a_target_takes_an_even_selection_is_run_the_first_among_them()
    {
        var seen = new List<TrialRecord>();
        var engine = new Told(trials =>
        {
            seen.AddRange(trials);
            throw new TargetFaultException("stop here") { IsSilence = true };
        })
        {
            MostRecords = 5,
            BatchSize = 5,
        };
        var records = Records.Random(Screen, 20, seed: 3).ToList();

        Run(engine, records);

        Assert.Equal([0, 4, 8, 12, 16], seen.Select(s => records.IndexOf(s.Fields)));
    }

    private static TargetReport Run(Told engine, int records) =>
        Run(engine, [.. Records.Random(Screen, records, seed: 3)]);

    private static TargetReport Run(Told engine, IReadOnlyList<long[]> records)
    {
        using var run = new TargetRun(Screen, "told", records.Count, () => engine);
        run.Start();
        run.Add([.. records.Select(f => Trial.Of(Screen, f))]);
        run.Finish();
        return run.Report("");
    }

    private sealed class Told(Func<IReadOnlyList<TrialRecord>, IReadOnlyList<TargetAnswer>> run)
        : IScoringTarget
    {
        public string Name => "told";

        public NumberForm Numbers => NumberForm.Exact;

        public int BatchSize { get; init; } = 10;

        public int MostRecords { get; init; } = int.MaxValue;

        public void Start() { }

        public IReadOnlyList<TargetAnswer> Run(IReadOnlyList<TrialRecord> records) => run(records);

        public void Dispose() { }
    }
}
