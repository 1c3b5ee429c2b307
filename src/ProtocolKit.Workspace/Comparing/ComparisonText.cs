using System.Text;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>A comparison as plain text.</summary>
public static class ComparisonText
{
    public static string Write(Comparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        var (old, @new) = (comparison.Old, comparison.New);
        var text = new StringBuilder();
        text.Append($"{old.Title}, edition {old.Edition}, and {@new.Title}, edition {@new.Edition}\n");
        Aspect(text, "Form", old.Fingerprints.Form, @new.Fingerprints.Form, comparison.Form);
        Aspect(
            text,
            "Administration",
            old.Fingerprints.Administration,
            @new.Fingerprints.Administration,
            comparison.Administration
        );
        Aspect(
            text,
            "Interpretation",
            old.Fingerprints.Interpretation,
            @new.Fingerprints.Interpretation,
            comparison.Interpretation
        );
        Group(text, "Beside, without a fingerprint", comparison.Beside);
        text.Append('\n').Append(Meaning(comparison)).Append('\n');
        Group(text, "Over all complete records a child can come to", comparison.Reachable);
        Records(text, comparison);
        return text.ToString();
    }

    /// <summary>What follows for records, in a sentence.</summary>
    public static string Meaning(Comparison comparison)
    {
        ArgumentNullException.ThrowIfNull(comparison);
        if (comparison.Form.Count > 0 || comparison.Administration.Count > 0)
        {
            return "Records of the old edition are of another form or administration: score refuses them unless they are "
                + "accepted by name, and their results can't be set beside new ones.";
        }

        return comparison.Interpretation.Count > 0
            ? "Records of the old edition can be scored by the new one, and score says that they are read differently."
            : "Nothing that a record holds or means has changed.";
    }

    private static void Aspect(
        StringBuilder text,
        string name,
        string old,
        string @new,
        IReadOnlyList<string> changes
    )
    {
        text.Append($"\n{name}: {(old == @new ? $"unchanged ({@new})" : $"{old} became {@new}")}\n");
        foreach (var change in changes)
        {
            text.Append($"  {change}\n");
        }
    }

    private static void Group(StringBuilder text, string heading, IReadOnlyList<string> sentences)
    {
        if (sentences.Count > 0)
        {
            text.Append($"\n{heading}\n");
        }

        foreach (var sentence in sentences)
        {
            text.Append($"  {sentence}\n");
        }
    }

    private static void Records(StringBuilder text, Comparison comparison)
    {
        var records = comparison.Records;
        if (records.Count == 0)
        {
            return;
        }

        var changed = records.Where(r => r.Changes.Count > 0).ToList();
        text.Append($"\nRecords: {records.Count}, of which {changed.Count} change a band or an action\n");
        foreach (var record in changed)
        {
            text.Append($"  {record.Case} ({record.Name})\n");
            foreach (var change in record.Changes)
            {
                text.Append($"    {change}\n");
            }
        }

        foreach (var record in records.Where(r => r.Problem is not null))
        {
            text.Append($"  {record.Name} was left out. {record.Problem}\n");
        }

        text.Append(
            $"\nTo be looked at again: {(comparison.Recall.Count == 0 ? "none" : comparison.Recall.Count)}\n"
        );
        foreach (var record in comparison.Recall)
        {
            text.Append(
                $"  {record.Case}: {record.NewHeadline} instead of {record.OldHeadline ?? "nothing settled"}\n"
            );
        }
    }
}
