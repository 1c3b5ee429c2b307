using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Three fingerprints: what is said, shown and answered; how it is given; how it is read. Layout and comments of the
/// text play no part.
/// </summary>
internal static class FingerprintWriter
{
    public static Fingerprints Of(Protocol protocol) =>
        new(
            Digest.Of(d => Form(protocol, d)),
            Digest.Of(d => Administration(protocol, d)),
            Digest.Of(d => Interpretation(protocol, d))
        );

    private static void Form(Protocol p, Digest digest)
    {
        digest.Add(p.Name);
        digest.Add(p.Language);
        foreach (var task in p.Tasks.OrderBy(t => t.Name, StringComparer.Ordinal))
        {
            digest.Add(task.Name);
            digest.Add(task.Contact.ToString());
            digest.Add(Join(task.Materials.Select(m => m.Name)));
            foreach (var variant in task.Variants.OrderBy(v => v.Name, StringComparer.Ordinal))
            {
                digest.Add(variant.Name);
                digest.Add(variant.Text);
                digest.Add(Join(variant.Say));
                digest.Add(Join(variant.Show));
            }

            foreach (var r in task.Responses)
            {
                digest.Add(
                    $"{r.Name} {r.Kind} {r.Low} {r.High} {r.Step} {r.Unit.Dimension} {r.Unit.Factor} {r.Spans} {r.WeakSide}"
                );
                digest.Add(Join(r.Scale?.Levels.Select(l => $"{l.Points} {l.Text}") ?? []));
                if (r.Question is { } question)
                {
                    digest.Add(question);
                }

                digest.Add(Join(r.Options.Select(o => $"{o.Name} {o.Text}")));
            }

            digest.Add(Join(task.Ticks.Select(t => $"{t.Observation.Name} {t.Observation.Text}")));
        }
    }

    private static void Administration(Protocol p, Digest digest)
    {
        digest.Add(p.ShortFormMinutes?.ToString(System.Globalization.CultureInfo.InvariantCulture));
        foreach (var task in p.Tasks)
        {
            digest.Add(
                $"{task.Number} {task.Name} {task.ShortForm} {Join(task.Variants.Select(v => v.Name))}"
            );
            digest.Add(
                $"{task.Trials.Count} {task.Trials.Keep} {task.Trials.By} {task.Trials.FurtherWhen?.Response} {task.Trials.FurtherWhen?.Below}"
            );
            if (task.Trials.IsCombined)
            {
                digest.Add($"{task.Trials.OfThoseGiven} {task.Trials.Step}");
            }

            digest.Add(task.Go);
            digest.Add(task.Practice);
            digest.Add(task.Repeat);
            digest.Add(task.Hold);
            digest.Add(Join(task.StopWhen));
            digest.Add(Join(task.Help.Select(h => $"{h.Text} {h.Contact}")));
            Skips(task.Skips, digest);
        }

        Routing(p, digest);
    }

    /// <summary>Adds nothing where nothing is routed.</summary>
    private static void Routing(Protocol p, Digest digest)
    {
        foreach (var section in p.Sections.OrderBy(s => s.Name, StringComparer.Ordinal))
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

        foreach (var question in p.History)
        {
            foreach (var gate in question.Gates)
            {
                digest.Add($"gate {question.Name} {gate.OnYes} {Join(gate.Tasks)} {gate.Unless}");
            }
        }

        foreach (var kind in p.Events.Where(e => e.Stops != WelfareStop.Nothing))
        {
            digest.Add($"event {kind.Name} {kind.Stops}");
        }
    }

    private static void Skips(IReadOnlyList<SkipRule> skips, Digest digest)
    {
        foreach (var skip in skips)
        {
            digest.Add(
                $"skip {string.Join(' ', skip.Condition.Split(' ', StringSplitOptions.RemoveEmptyEntries))} {skip.Credit}"
            );
        }
    }

    private static void Interpretation(Protocol p, Digest digest)
    {
        digest.Add(p.Ages.ToString());
        foreach (var o in p.Outcomes.OrderBy(o => o.Name, StringComparer.Ordinal))
        {
            digest.Add(
                $"{o.Name} {string.Join(' ', o.Formula.Split(' ', StringSplitOptions.RemoveEmptyEntries))} {o.Step} {o.Unit.Dimension} {o.Unit.Factor}"
            );
        }

        foreach (var o in p.Outcomes.Where(o => o.Untried == UntriedPolicy.ScaledUp))
        {
            digest.Add($"{o.Name} scaled up {o.ScaledUpAtMost}");
        }

        foreach (var o in p.Outcomes)
        {
            foreach (var row in o.Table?.Rows ?? [])
            {
                digest.Add(
                    $"{o.Name} {row.From} {row.To} {Join(row.Results.Select(r => r?.ToString() ?? "none"))}"
                );
            }
        }

        // The lines themselves: a rule's meaning, however it is written.
        foreach (
            var line in p.Program.Lines.Where(l => !l.Name.StartsWith("claim.", StringComparison.Ordinal))
        )
        {
            digest.Add(line.Name);
            digest.Add(line.Low, line.High);
        }

        foreach (var table in p.CutOffs)
        {
            digest.Add($"{table.Outcome.Name} {table.ShortForm} {Join(table.Bands.Select(b => b.Name))}");
            foreach (var row in table.Rows)
            {
                digest.Add(
                    $"{row.Ages} {Join(row.Cells.Select(c => c is null ? "none" : $"{c.From} to {c.To}"))}"
                );
            }
        }

        foreach (var action in p.Actions)
        {
            digest.Add($"{action.Name} {action.Urgency} {action.Finish} {Join(action.Conditions)}");
        }
    }

    private static string Join(IEnumerable<string> parts) => string.Join('\u001f', parts);
}
