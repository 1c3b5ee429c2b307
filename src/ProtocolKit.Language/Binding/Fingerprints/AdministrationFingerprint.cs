using System.Globalization;
using ProtocolKit.Model;
using static ProtocolKit.Language.Binding.FingerprintWriter;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// How the form is given: order, trials, help, practice, signals, when to stop, what the short form leaves out. What closes
/// or skips tasks belongs here too.
/// </summary>
internal static class AdministrationFingerprint
{
    public static void Write(Protocol protocol, Digest digest)
    {
        digest.Add(protocol.ShortFormMinutes?.ToString(CultureInfo.InvariantCulture));
        foreach (var task in protocol.Tasks)
        {
            digest.Add(
                $"{task.Number} {task.Name} {task.ShortForm} {Join(task.Variants.Select(v => v.Name))}"
            );
            var trials = task.Trials;
            digest.Add(
                $"{trials.Count} {trials.Keep} {trials.By} {trials.FurtherWhen?.Response} {trials.FurtherWhen?.Below}"
            );
            if (trials.IsCombined)
            {
                digest.Add($"{trials.OfThoseGiven} {trials.Step}");
            }

            digest.Add(task.Section?.Introduction);
            digest.Add(task.Go);
            digest.Add(task.Practice);
            digest.Add(task.Repeat);
            digest.Add(task.Hold);
            digest.Add(Join(task.StopWhen));
            digest.Add(Join(task.Help.Select(h => $"{h.Text} {h.Contact} {h.Cost} {h.IsStart}")));
            Skips(task.Skips, digest);
        }

        Routing(protocol, digest);
    }

    /// <summary>Adds nothing where nothing is routed.</summary>
    private static void Routing(Protocol protocol, Digest digest)
    {
        foreach (var section in protocol.Sections.OrderBy(s => s.Name, StringComparer.Ordinal))
        {
            Skips(section.Skips, digest);
            foreach (var start in section.StartPoints)
            {
                digest.Add($"start {section.Name} {start.From} {start.Task} {section.GoBack}");
            }

            if (section.Stop is { } stop)
            {
                digest.Add($"stop {section.Name} {stop.InARow} {stop.Points} {section.IsByDifficulty}");
            }
        }

        foreach (var question in protocol.History)
        {
            foreach (var gate in question.Gates)
            {
                digest.Add($"gate {question.Name} {gate.OnYes} {Join(gate.Tasks)} {gate.Unless}");
            }
        }

        foreach (var kind in protocol.Events.Where(e => e.Stops != WelfareStop.Nothing))
        {
            digest.Add($"event {kind.Name} {kind.Stops}");
        }
    }

    private static void Skips(IReadOnlyList<SkipRule> skips, Digest digest)
    {
        foreach (var skip in skips)
        {
            digest.Add($"skip {Rule(skip.Condition)} {skip.Credit}");
        }
    }
}
