using ProtocolKit.Model;
using static ProtocolKit.Workspace.Comparing.Matching;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>What changes on paper and moves no fingerprint.</summary>
internal static class BesideChanges
{
    public static IReadOnlyList<string> Of(Protocol old, Protocol @new)
    {
        var changes = new List<string>();
        foreach (
            var (what, before, after) in new[]
            {
                ("edition", old.Edition, @new.Edition),
                ("title", old.Title, @new.Title),
                ("purpose", old.Purpose, @new.Purpose),
                ("line on who may examine", old.Examiner, @new.Examiner),
            }
        )
        {
            if (before != after)
            {
                changes.Add($"The {what} is {OrNothing(after)} instead of {OrNothing(before)}.");
            }
        }

        foreach (
            var (what, before, after) in new[]
            {
                (
                    "titles of tasks",
                    Texts(old.Tasks.Select(t => (t.Name, t.Title))),
                    Texts(@new.Tasks.Select(t => (t.Name, t.Title)))
                ),
                (
                    "titles of measures and scores",
                    Texts(old.Outcomes.Select(o => (o.Name, o.Title))),
                    Texts(@new.Outcomes.Select(o => (o.Name, o.Title)))
                ),
                (
                    "cautions",
                    Texts(old.Cautions.Select(c => (c.Name, c.Text))),
                    Texts(@new.Cautions.Select(c => (c.Name, c.Text)))
                ),
                ("texts of bands and actions", Printed(old), Printed(@new)),
                ("letters and notes", Texts(old.Texts.Select(Text)), Texts(@new.Texts.Select(Text))),
                (
                    "questions of the case history",
                    Texts(old.History.Select(h => (h.Name, h.Text))),
                    Texts(@new.History.Select(h => (h.Name, h.Text)))
                ),
                (
                    "consents",
                    Texts(old.Consents.Select(c => (c.Name, c.Text))),
                    Texts(@new.Consents.Select(c => (c.Name, c.Text)))
                ),
                (
                    "claims",
                    Texts(old.Claims.Select(c => (c.Premise, c.Conclusion))),
                    Texts(@new.Claims.Select(c => (c.Premise, c.Conclusion)))
                ),
            }
        )
        {
            if (!before.SequenceEqual(after))
            {
                changes.Add($"The {what} have changed.");
            }
        }

        return changes;
    }

    private static List<string> Printed(Protocol p) =>
        Texts(p.Bands.Select(b => (b.Name, b.Text)).Concat(p.Actions.Select(a => (a.Name, a.Title))));

    private static (string, string) Text(ReportText text) =>
        (
            $"{text.Kind} {text.Name} {text.Audience}",
            string.Join("\n", text.Paragraphs.Select(p => $"{p.Audience} {p.Text}"))
        );

    /// <summary>Without regard to their order; what was added or taken out is told elsewhere where it matters.</summary>
    private static List<string> Texts(IEnumerable<(string Name, string Text)> texts) =>
        [.. texts.Select(t => $"{t.Name}\n{t.Text}").Order(StringComparer.Ordinal)];
}
