using System.Diagnostics;
using ProtocolKit.Emit;
using ProtocolKit.Model;
using ProtocolKit.Testing;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification;

/// <summary>One target on its way through the records, held against the reference at each.</summary>
internal sealed class TargetRun(Protocol protocol, string name, int all, Func<IScoringTarget> make)
    : IDisposable
{
    private const int ShrinkBatch = 64;
    private const int MostShrinkBatch = 512;

    private readonly Stopwatch _watch = new();
    private readonly List<Trial> _waiting = [];
    private IScoringTarget? _target;
    private int _records;
    private int _seen;
    private string _unavailable = "";
    private bool _isMissing;
    private Difference? _difference;

    public bool Differs => _difference is not null;

    public void Start()
    {
        _watch.Start();
        try
        {
            _target = make();
            _target.Start();
        }
        catch (OutputRefusedException e)
        {
            _unavailable = e.Message;
        }
        catch (TargetUnavailableException e)
        {
            (_unavailable, _isMissing) = (e.Message, e.IsMissing);
        }

        _watch.Stop();
    }

    /// <summary>Takes a batch; it is run once there are as many records as the target takes at once.</summary>
    public void Add(IReadOnlyList<Trial> trials)
    {
        if (_unavailable.Length > 0 || Differs)
        {
            return;
        }

        foreach (var trial in trials)
        {
            if (IsChosen(_seen++))
            {
                _waiting.Add(trial);
            }

            if (_waiting.Count >= _target!.BatchSize && !Differs)
            {
                Finish();
            }
        }
    }

    /// <summary>All of them or, where they are more than the target takes, the first and an even selection of the rest.</summary>
    private bool IsChosen(int place)
    {
        var most = _target!.MostRecords;
        return all <= most || place == 0 || (long)place * most / all > (place - 1L) * most / all;
    }

    /// <summary>Runs what waits.</summary>
    public void Finish()
    {
        if (_waiting.Count > 0)
        {
            Run(_waiting);
            _waiting.Clear();
        }
    }

    /// <summary>Runs a batch and, at a difference, looks for the smallest record that shows one.</summary>
    private void Run(IReadOnlyList<Trial> trials)
    {
        var (index, _) = FirstFinding(trials);
        if (_unavailable.Length > 0)
        {
            return;
        }

        _records += index < 0 ? trials.Count : index + 1;
        if (index >= 0)
        {
            _difference = Smallest(trials[index].Record.Fields);
        }
    }

    /// <param name="stoppedBy">The target at whose difference all stopped; empty where all ran to the end.</param>
    public TargetReport Report(string stoppedBy)
    {
        var agreement = Differs ? Agreement.Differs : Agreement.Agreed;
        var reason = "";
        if (!Differs && _unavailable.Length > 0)
        {
            (agreement, reason) = (Agreement.NotRun, _unavailable);
        }
        else if (!Differs && stoppedBy.Length > 0)
        {
            (agreement, reason) = (Agreement.NotRun, $"stopped at the difference of {stoppedBy}.");
        }
        else if (!Differs && (_records < Math.Min(all, _target!.MostRecords) || all == 0))
        {
            (agreement, reason) = (Agreement.NotRun, "it did not come to the end of the records.");
        }

        return new TargetReport(name, _records, _watch.Elapsed, agreement, reason, _isMissing, _difference);
    }

    public string Name => name;

    public void Dispose() => _target?.Dispose();

    /// <summary>The first record with a finding, or -1. Code that fails is run one record at a time to find which.</summary>
    private (int Index, Finding? Finding) FirstFinding(IReadOnlyList<Trial> trials)
    {
        _watch.Start();
        try
        {
            var answers = _target!.Run([.. trials.Select(t => t.Record)]);
            for (var i = 0; i < trials.Count; i++)
            {
                if (Finding.Between(protocol, trials[i], answers[i], _target) is { } finding)
                {
                    return (i, finding);
                }
            }

            return (-1, null);
        }
        catch (TargetFaultException e) when (e.IsSilence)
        {
            _unavailable = e.Message;
            return (-1, null);
        }
        catch (TargetFaultException e) when (trials.Count == 1)
        {
            return (0, new Finding("the run", "an answer", $"\"{e.Message}\""));
        }
        catch (TargetFaultException)
        {
            return FirstOneByOne(trials);
        }
        finally
        {
            _watch.Stop();
        }
    }

    private (int Index, Finding? Finding) FirstOneByOne(IReadOnlyList<Trial> trials)
    {
        for (var i = 0; i < trials.Count; i++)
        {
            if (FirstFinding([trials[i]]) is (0, var finding))
            {
                return (i, finding);
            }
        }

        return (trials.Count - 1, new Finding("the run", "an answer", "a failure in long batches only"));
    }

    /// <summary>Follows ever simpler records for as long as one of them still differs.</summary>
    private Difference Smallest(long[] fields)
    {
        var current = fields;
        while (SimplerThatDiffers(current) is { } simpler)
        {
            current = simpler;
        }

        var trial = Trial.Of(protocol, current);
        var finding =
            FirstFinding([trial]).Finding
            ?? new Finding("the run", "the same answer each time", "different answers to one record");
        var flawless = Records.Flawless(protocol);
        flawless[protocol.Program.AgeField] = current[protocol.Program.AgeField];
        var plainFlawless = PlainRecord.From(protocol, flawless);
        return new Difference(
            finding.What,
            finding.Expected,
            finding.Actual,
            trial.Record.Plain,
            [.. trial.Record.Plain.DifferencesFrom(plainFlawless)],
            current
        );
    }

    private long[]? SimplerThatDiffers(long[] fields)
    {
        foreach (
            var batch in Records
                .Shrink(protocol, fields)
                .Chunk(Math.Clamp(_target!.BatchSize / 2, ShrinkBatch, MostShrinkBatch))
        )
        {
            var (index, _) = FirstFinding(Array.ConvertAll(batch, f => Trial.Of(protocol, f)));
            if (index >= 0)
            {
                return batch[index];
            }
        }

        return null;
    }
}
