using System.Security.Cryptography;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// Three fingerprints: what is said, shown and answered; how it is given; how it is read. Layout and comments of the
/// text play no part. First 64 bits of SHA-256 (FIPS 180-4), as 16 hexadecimal digits.
/// </summary>
internal static class FingerprintWriter
{
    public static Fingerprints Of(Protocol protocol) =>
        new(Hash(Form(protocol)), Hash(Administration(protocol)), Hash(Interpretation(protocol)));

    private static IEnumerable<string?> Form(Protocol p)
    {
        yield return p.Name;
        yield return p.Language;
        foreach (var task in p.Tasks.OrderBy(t => t.Name, StringComparer.Ordinal))
        {
            yield return task.Name;
            yield return task.Contact.ToString();
            yield return Join(task.Materials.Select(m => m.Name));
            foreach (var variant in task.Variants.OrderBy(v => v.Name, StringComparer.Ordinal))
            {
                yield return variant.Name;
                yield return variant.Text;
                yield return Join(variant.Say);
                yield return Join(variant.Show);
            }

            foreach (var r in task.Responses)
            {
                yield return $"{r.Name} {r.Kind} {r.Low} {r.High} {r.Step} {r.Unit.Dimension} {r.Unit.Factor} {r.Spans} {r.WeakSide}";
                yield return Join(r.Scale?.Levels.Select(l => $"{l.Points} {l.Text}") ?? []);
                if (r.Question is { } question)
                {
                    yield return question;
                }

                yield return Join(r.Options.Select(o => $"{o.Name} {o.Text}"));
            }

            yield return Join(task.Ticks.Select(t => $"{t.Observation.Name} {t.Observation.Text}"));
        }
    }

    private static IEnumerable<string?> Administration(Protocol p)
    {
        yield return p.ShortFormMinutes?.ToString(System.Globalization.CultureInfo.InvariantCulture);
        foreach (var task in p.Tasks)
        {
            yield return $"{task.Number} {task.Name} {task.ShortForm} {Join(task.Variants.Select(v => v.Name))}";
            yield return $"{task.Trials.Count} {task.Trials.Keep} {task.Trials.By} {task.Trials.FurtherWhen?.Response} {task.Trials.FurtherWhen?.Below}";
            yield return task.Go;
            yield return task.Practice;
            yield return task.Repeat;
            yield return task.Hold;
            yield return Join(task.StopWhen);
            yield return Join(task.Help.Select(h => $"{h.Text} {h.Contact}"));
        }
    }

    private static IEnumerable<string?> Interpretation(Protocol p)
    {
        yield return p.Ages.ToString();
        foreach (var o in p.Outcomes.OrderBy(o => o.Name, StringComparer.Ordinal))
        {
            yield return $"{o.Name} {string.Join(' ', o.Formula.Split(' ', StringSplitOptions.RemoveEmptyEntries))} {o.Step} {o.Unit.Dimension} {o.Unit.Factor}";
        }

        // The lines themselves: a rule's meaning, however it is written.
        foreach (
            var line in p.Program.Lines.Where(l => !l.Name.StartsWith("claim.", StringComparison.Ordinal))
        )
        {
            yield return line.Name;
            yield return $"{line.Low} {line.High}";
        }

        foreach (var table in p.CutOffs)
        {
            yield return $"{table.Outcome.Name} {table.ShortForm} {Join(table.Bands.Select(b => b.Name))}";
            foreach (var row in table.Rows)
            {
                yield return $"{row.Ages} {Join(row.Cells.Select(c => c is null ? "none" : $"{c.From} to {c.To}"))}";
            }
        }

        foreach (var action in p.Actions)
        {
            yield return $"{action.Name} {action.Urgency} {action.Finish} {Join(action.Conditions)}";
        }
    }

    private static string Join(IEnumerable<string> parts) => string.Join('\u001f', parts);

    private static string Hash(IEnumerable<string?> parts)
    {
        var text = string.Join('\u001e', parts.Select(p => p ?? ""));
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)))[..16];
    }
}
