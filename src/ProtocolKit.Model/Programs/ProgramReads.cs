namespace ProtocolKit.Model;

/// <summary>
/// Which answers a measure or score rests on, as its program says: those it names and those its lines read,
/// through other values and in conditions too. What only decided whether an answer was asked for is not among them.
/// </summary>
public static class ProgramReads
{
    /// <summary>Kept answers in the order of the program.</summary>
    public static IReadOnlyList<KeptLines> Of(ScoringProgram program, OutcomeLines outcome)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(outcome);
        var named = outcome.Reads.ToHashSet(StringComparer.Ordinal);
        var keptLines = program
            .Kept.SelectMany(k => new[] { k.StateLine, k.LowLine, k.HighLine })
            .ToHashSet();
        var read = LinesReadBy(program, outcome, l => l >= program.GivingEnd && !keptLines.Contains(l));
        return
        [
            .. program.Kept.Where(k =>
                named.Contains(k.Key)
                || read.Contains(k.StateLine)
                || read.Contains(k.LowLine)
                || read.Contains(k.HighLine)
            ),
        ];
    }

    /// <param name="goesOn">Whether what a line itself reads counts too.</param>
    private static HashSet<int> LinesReadBy(
        ScoringProgram program,
        OutcomeLines outcome,
        Func<int, bool> goesOn
    )
    {
        var read = new HashSet<int>();
        var rest = new Stack<int>([
            outcome.StateLine,
            outcome.LowLine,
            outcome.HighLine,
            outcome.LowDenominatorLine,
            outcome.HighDenominatorLine,
        ]);
        while (rest.TryPop(out var line))
        {
            if (line < 0 || !read.Add(line) || !goesOn(line))
            {
                continue;
            }

            var found = new List<int>();
            Collect(program.Lines[line].Value, found);
            Collect(program.Lines[line].Condition, found);
            found.ForEach(rest.Push);
        }

        return read;
    }

    private static void Collect(object? part, List<int> lines)
    {
        switch (part)
        {
            case LineValue l:
                lines.Add(l.Line);
                break;
            case LineCondition l:
                lines.Add(l.Line);
                break;
            default:
                foreach (var inner in ExpressionParts.Of(part))
                {
                    Collect(inner, lines);
                }

                break;
        }
    }
}
