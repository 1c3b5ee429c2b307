using ProtocolKit.Model;

namespace ProtocolKit.Benchmarks.Batch;

/// <summary>What both sides of a comparison are asked for.</summary>
internal static class WantedLines
{
    /// <summary>All lines that a row of results is written from, each once.</summary>
    public static IReadOnlyList<int> Of(ScoringProgram program) =>
        [
            .. program
                .Outcomes.SelectMany(o =>
                    new[] { o.StateLine, o.LowLine, o.HighLine, o.LowDenominatorLine, o.HighDenominatorLine }
                )
                .Where(l => l >= 0)
                .Concat(program.Bands.Select(b => b.Line))
                .Concat(program.Actions.SelectMany(a => new[] { a.AppliesLine, a.AppliesNotLine }))
                .Append(program.HeadlineLine)
                .Distinct(),
        ];

    /// <summary>The name of the first line in which both sides differ, or null; ends of a value count only where it is known.</summary>
    public static string? Difference(
        ScoringProgram program,
        IReadOnlyList<int> wanted,
        int rows,
        long[][] first,
        long[][] second
    )
    {
        var columnOf = wanted.Select((line, i) => (line, i)).ToDictionary(x => x.line, x => x.i);
        var stateOf = program
            .Outcomes.SelectMany(o => new[] { (o.LowLine, o.StateLine), (o.HighLine, o.StateLine) })
            .Distinct()
            .ToDictionary(x => x.Item1, x => columnOf[x.Item2]);
        foreach (var (line, i) in columnOf)
        {
            var states = stateOf.TryGetValue(line, out var s) ? first[s] : null;
            for (var row = 0; row < rows; row++)
            {
                if (first[i][row] != second[i][row] && (states is null || states[row] == 0))
                {
                    return $"{program.Lines[line].Name}, row {row}: {first[i][row]} and {second[i][row]}";
                }
            }
        }

        return null;
    }
}
