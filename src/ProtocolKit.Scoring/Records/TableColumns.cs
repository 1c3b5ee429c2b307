using ProtocolKit.Model;

namespace ProtocolKit.Scoring;

/// <summary>Checks the head of a table of records before any row is read.</summary>
public static class TableColumns
{
    /// <summary>Everything wrong with the names of the columns: names of children, unknown ones, ones that stand twice.</summary>
    /// <param name="further">Columns the caller reads itself.</param>
    public static IReadOnlyList<RecordProblem> Check(
        IReadOnlyList<string> columns,
        string fileName,
        int line,
        Protocol protocol,
        IReadOnlyCollection<string> further
    )
    {
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(protocol);
        var known = Known(protocol).Concat(further).ToHashSet(StringComparer.Ordinal);
        var problems = new ProblemList(fileName);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        for (var i = 0; i < columns.Count; i++)
        {
            var origin = new Origin(fileName, line, i + 1, 0);
            if (string.IsNullOrWhiteSpace(columns[i]))
            {
                problems.Add(
                    origin,
                    "",
                    "This column has no name.",
                    "Name it in the first line, or take it out."
                );
            }
            else if (!seen.Add(columns[i]))
            {
                problems.Add(
                    origin,
                    columns[i],
                    $"There are two columns called {Say.Quote(columns[i])}.",
                    "Keep the one that is right."
                );
            }
            else if (!known.Contains(columns[i]))
            {
                Unknown(columns[i], origin, known, problems);
            }
        }

        return problems.InOrder();
    }

    private static void Unknown(string column, Origin origin, HashSet<string> known, ProblemList problems)
    {
        if (NameGuard.LooksLikeName(column))
        {
            problems.Add(
                origin,
                column,
                $"The column {Say.Quote(column)} looks like a name or an address. Study data hold codes only.",
                "Take the column out of the file, and out of every copy of it."
            );
            return;
        }

        var meant = problems.Suggest(column, known);
        problems.Add(
            origin,
            column,
            $"Nothing here is called {Say.Quote(column)}.",
            meant is null
                ? "Columns are the record's own keys and task.response[.side][.trial-N], in full. Take it out, or name it so."
                : $"Perhaps you mean {meant}."
        );
    }

    private static IEnumerable<string> Known(Protocol protocol)
    {
        var parts = protocol.Tasks.SelectMany(t =>
            t.Variants.Select(v => v.Name.Length == 0 ? t.Name : $"{t.Name}.{v.Name}")
        );
        return RecordTable
            .SittingColumns.Append(RecordKeys.Born)
            .Concat(RecordKeys.OfFingerprints.Select(f => $"{RecordKeys.Fingerprints}.{f}"))
            .Concat(protocol.Program.Answers.Select(a => a.Key))
            .Concat(parts.Select(p => $"{RecordKeys.Help}.{p}"))
            .Concat(protocol.Program.Kept.Select(k => $"{RecordKeys.Help}.{k.Key}"))
            .Concat(protocol.Program.Observations.Select(o => $"{RecordKeys.Observations}.{o.Key}"))
            .Concat(protocol.Program.History.Select(h => $"{RecordKeys.History}.{h.Key}"))
            .Concat(protocol.Tasks.Select(t => $"{RecordKeys.TaskSeconds}.{t.Name}"));
    }
}
