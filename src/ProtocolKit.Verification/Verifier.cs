using ProtocolKit.Model;
using ProtocolKit.Testing;
using ProtocolKit.Verification.Targets;

namespace ProtocolKit.Verification;

/// <summary>
/// Runs emitted scoring code against the reference evaluator, record by record, and compares every field as
/// read, every line and every output. It stops at the first difference.
/// </summary>
public static class Verifier
{
    public static IReadOnlyList<string> TargetNames => ScoringTargets.Names;

    /// <exception cref="ArgumentException">A target of the options does not exist.</exception>
    /// <exception cref="Emit.Templating.TemplateFaultException">A template is at fault.</exception>
    public static VerifyReport Run(
        Protocol protocol,
        VerifyOptions options,
        IProgress<VerifyProgress>? progress = null,
        CancellationToken cancellation = default
    )
    {
        ArgumentNullException.ThrowIfNull(protocol);
        ArgumentNullException.ThrowIfNull(options);
        var names = Chosen(options.Targets);
        return LargeStack
            .Start(() => RunAll(protocol, options, names, progress, cancellation))
            .GetAwaiter()
            .GetResult();
    }

    /// <summary>Those of some wishes that are neither a target nor the beginning of one, such as <c>sql</c>.</summary>
    public static IReadOnlyList<string> Unknown(IReadOnlyList<string> wanted) =>
        [.. wanted.Where(w => !TargetNames.Any(n => Fits(n, w)))];

    private static bool Fits(string name, string wish) =>
        name == wish || name.StartsWith(wish + "-", StringComparison.Ordinal);

    private static IReadOnlyList<string> Chosen(IReadOnlyList<string> wanted)
    {
        if (Unknown(wanted) is [var unknown, ..])
        {
            throw new ArgumentException(
                $"There is no target \"{unknown}\". Targets are {string.Join(", ", TargetNames)}.",
                nameof(wanted)
            );
        }

        return wanted.Count == 0 ? TargetNames : [.. TargetNames.Where(n => wanted.Any(w => Fits(n, w)))];
    }

    private static VerifyReport RunAll(
        Protocol protocol,
        VerifyOptions options,
        IReadOnlyList<string> names,
        IProgress<VerifyProgress>? progress,
        CancellationToken cancellation
    )
    {
        var allEdges = Records.AllAtEdges(protocol).Count();
        var edges = Edges(protocol, allEdges, options.MostAtEdges).Count();
        var sampled = Records.Sampled(protocol, options.Sampled, options.Seed).ToList();
        var all = edges + sampled.Count + options.Records;
        var sheets = Edges(protocol, allEdges, options.MostAtEdges)
            .Concat(sampled)
            .Concat(Records.Random(protocol, options.Records, options.Seed));
        var runs = new List<TargetRun>();
        try
        {
            foreach (var name in names)
            {
                cancellation.ThrowIfCancellationRequested();
                runs.Add(
                    new TargetRun(protocol, name, all, () => ScoringTargets.Make(name, protocol, options))
                );
                runs[^1].Start();
            }

            var stoppedBy = RunBatches(protocol, sheets, runs, all, progress, cancellation);
            return new VerifyReport(
                all,
                edges,
                allEdges,
                options.Seed,
                [.. runs.Select(r => r.Report(stoppedBy))]
            )
            {
                Sampled = sampled.Count,
                MissingIsWrong = options.MissingIsWrong,
            };
        }
        finally
        {
            runs.ForEach(r => r.Dispose());
        }
    }

    /// <summary>All records at edges or, where they are too many, the first and an even selection of the rest.</summary>
    private static IEnumerable<long[]> Edges(Protocol protocol, int all, int most) =>
        all <= most
            ? Records.AllAtEdges(protocol)
            : Records
                .AllAtEdges(protocol)
                .Where((_, i) => i == 0 || (long)i * most / all > (i - 1L) * most / all);

    /// <summary>Gives the name of the target that differs; empty where none does.</summary>
    private static string RunBatches(
        Protocol protocol,
        IEnumerable<long[]> sheets,
        IReadOnlyList<TargetRun> runs,
        int all,
        IProgress<VerifyProgress>? progress,
        CancellationToken cancellation
    )
    {
        using var batches = new TrialBatches(protocol, sheets);
        var done = 0;
        while (batches.Next() is { Count: > 0 } batch)
        {
            foreach (var run in runs)
            {
                cancellation.ThrowIfCancellationRequested();
                run.Add(batch);
                if (run.Differs)
                {
                    return run.Name;
                }
            }

            done += batch.Count;
            progress?.Report(new VerifyProgress(done, all));
        }

        foreach (var run in runs)
        {
            run.Finish();
            if (run.Differs)
            {
                return run.Name;
            }
        }

        return "";
    }
}
