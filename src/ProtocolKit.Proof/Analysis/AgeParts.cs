using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using ProtocolKit.Model;
using ProtocolKit.Proof.Engine;

namespace ProtocolKit.Proof.Analysis;

/// <summary>The protocol's ages cut wherever the program tells one month from the next.</summary>
internal static class AgeParts
{
    private static readonly ConditionalWeakTable<
        ScoringProgram,
        ConcurrentDictionary<string, SortedSet<long>>
    > Cuts = [];
    private static readonly ConditionalWeakTable<Protocol, IReadOnlyList<AgeRange>> Known = [];

    public static IReadOnlyList<AgeRange> Of(Protocol protocol) => Known.GetValue(protocol, Find);

    private static IReadOnlyList<AgeRange> Find(Protocol protocol)
    {
        var (from, to) = (protocol.Ages.From.Months, protocol.Ages.To.Months);
        var starts = new SortedSet<long> { from };
        foreach (var line in protocol.Program.Lines)
        {
            Collect(line.Value, protocol.Program.AgeField, starts);
            Collect(line.Condition, protocol.Program.AgeField, starts);
        }

        foreach (var row in protocol.CutOffs.SelectMany(t => t.Rows))
        {
            starts.Add(row.Ages.From.Months);
            starts.Add(row.Ages.To.Months + 1);
        }

        var inside = starts.Where(s => s >= from && s <= to).Select(s => (int)s).ToList();
        return
        [
            .. inside.Select(
                (s, i) => new AgeRange(new Age(s), new Age(i + 1 < inside.Count ? inside[i + 1] - 1 : to))
            ),
        ];
    }

    /// <summary>
    /// The first of the parts of the protocol's ages at which some lines come to the same as at a part: neither they nor which tasks are
    /// given rest on what is different about its age.
    /// </summary>
    public static AgeRange FirstLike(Protocol protocol, AgeRange part, params int[] lines)
    {
        var cuts = Cuts.GetValue(protocol.Program, _ => new(StringComparer.Ordinal));
        var starts = cuts.GetOrAdd(
            string.Join(' ', lines),
            _ => StartsIn(protocol.Program, [.. lines, .. protocol.Program.Giving.Select(g => g.GivenLine)])
        );
        return Of(protocol)
            .First(p => p.From >= part.From || !starts.Any(s => s > p.From.Months && s <= part.From.Months));
    }

    /// <summary>Where the lines and those they read tell ages apart.</summary>
    private static SortedSet<long> StartsIn(ScoringProgram program, int[] lines)
    {
        var (reads, starts, seen) = (LineReads.Of(program), new SortedSet<long>(), new HashSet<int>());
        var open = new Stack<int>(lines);
        while (open.TryPop(out var line))
        {
            if (!reads.RestsOnAge(line) || !seen.Add(line))
            {
                continue;
            }

            Collect(program.Lines[line].Value, program.AgeField, starts);
            Collect(program.Lines[line].Condition, program.AgeField, starts);
            foreach (var read in reads.OfLine(line))
            {
                open.Push(read);
            }
        }

        return starts;
    }

    private static void Collect(object? part, int age, SortedSet<long> starts)
    {
        switch (part)
        {
            case IsAtMost { Left: FieldValue f, Right: Constant c } when f.Field == age:
                starts.Add(c.Value + 1);
                break;
            case IsAtMost { Left: Constant c, Right: FieldValue f } when f.Field == age:
                starts.Add(c.Value);
                break;
            case IsEqual { Left: FieldValue f, Right: Constant c } when f.Field == age:
                starts.Add(c.Value);
                starts.Add(c.Value + 1);
                break;
            case Pick { Subject: FieldValue f } pick when f.Field == age:
                starts.UnionWith(pick.Cases.Select(c => c.From));
                break;
            default:
                foreach (var inner in ExpressionParts.Of(part))
                {
                    Collect(inner, age, starts);
                }

                break;
        }
    }
}
