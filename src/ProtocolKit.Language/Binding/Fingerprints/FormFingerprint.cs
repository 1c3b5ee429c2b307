using ProtocolKit.Model;
using static ProtocolKit.Language.Binding.FingerprintWriter;

namespace ProtocolKit.Language.Binding;

/// <summary>
/// What the child meets and what can be written down: words, demonstrations, materials, levels, answers and signs. Titles,
/// notes, cautions and plausible bounds are not part of it: they change nothing the child does and no answer that counts.
/// </summary>
internal static class FormFingerprint
{
    public static void Write(Protocol protocol, Digest digest)
    {
        digest.Add(protocol.Name);
        digest.Add(protocol.Language);
        foreach (var task in protocol.Tasks.OrderBy(t => t.Name, StringComparer.Ordinal))
        {
            digest.Add(task.Name);
            digest.Add(task.Contact.ToString());
            digest.Add(Join(task.Materials.Select(m => $"{m.Name} {m.Text}")));
            foreach (var variant in task.Variants.OrderBy(v => v.Name, StringComparer.Ordinal))
            {
                digest.Add(variant.Name);
                digest.Add(variant.Text);
                digest.Add(Join(variant.Say));
                digest.Add(Join(variant.Show));
            }

            foreach (var response in task.Responses)
            {
                Answer(response, digest);
            }

            digest.Add(Join(task.Ticks.Select(t => $"{t.Observation.Name} {t.Observation.Text}")));
        }
    }

    private static void Answer(Response response, Digest digest)
    {
        digest.Add(
            $"{response.Name} {response.Kind} {response.Low} {response.High} {response.Step} "
                + $"{response.Unit.Dimension} {response.Unit.Factor} {response.Spans} {response.WeakSide}"
        );
        digest.Add(Join(response.Scale?.Levels.Select(l => $"{l.Points} {l.Text} {l.Example}") ?? []));
        digest.Add(response.Question);
        digest.Add(Join(response.Options.Select(o => $"{o.Name} {o.Text}")));
    }
}
