namespace ProtocolKit.Model;

/// <summary>
/// Which answers a measure or score rests on, as its program says: those it names and those its lines read,
/// through other values and in conditions too.
/// </summary>
public static class ProgramReads
{
    /// <summary>Kept answers in the order of the program.</summary>
    public static IReadOnlyList<KeptLines> Of(ScoringProgram program, OutcomeLines outcome)
    {
        ArgumentNullException.ThrowIfNull(program);
        ArgumentNullException.ThrowIfNull(outcome);
        var named = outcome.Reads.ToHashSet(StringComparer.Ordinal);
        var read = LinesReadBy(program, outcome);
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

    private static HashSet<int> LinesReadBy(ScoringProgram program, OutcomeLines outcome)
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
            if (line < 0 || !read.Add(line))
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

    private static void Collect(IntExpr? value, List<int> lines)
    {
        switch (value)
        {
            case LineValue l:
                lines.Add(l.Line);
                break;
            case Add a:
                Collect(a.Left, a.Right, lines);
                break;
            case Subtract s:
                Collect(s.Left, s.Right, lines);
                break;
            case Multiply m:
                Collect(m.Left, m.Right, lines);
                break;
            case Least l:
                Collect(l.Left, l.Right, lines);
                break;
            case Most m:
                Collect(m.Left, m.Right, lines);
                break;
            case FloorDivide d:
                Collect(d.Dividend, d.Divisor, lines);
                break;
            case Choose c:
                Collect(c.If, lines);
                Collect(c.Then, c.Else, lines);
                break;
            case Pick p:
                Collect(p.Subject, lines);
                break;
            case GuardedSum s:
                foreach (var term in s.Terms)
                {
                    Collect(term.If, lines);
                    Collect(term.Value, lines);
                }

                break;
        }
    }

    private static void Collect(IntExpr left, IntExpr right, List<int> lines)
    {
        Collect(left, lines);
        Collect(right, lines);
    }

    private static void Collect(BoolExpr? condition, List<int> lines)
    {
        switch (condition)
        {
            case LineCondition l:
                lines.Add(l.Line);
                break;
            case IsEqual e:
                Collect(e.Left, e.Right, lines);
                break;
            case IsAtMost a:
                Collect(a.Left, a.Right, lines);
                break;
            case BothOf b:
                Collect(b.Left, lines);
                Collect(b.Right, lines);
                break;
            case EitherOf e:
                Collect(e.Left, lines);
                Collect(e.Right, lines);
                break;
            case Not n:
                Collect(n.Inner, lines);
                break;
        }
    }
}
