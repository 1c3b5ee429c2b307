using ProtocolKit.Model;

namespace ProtocolKit.Proof.Analysis;

/// <summary>The protocol's ages cut wherever the program tells one month from the next.</summary>
internal static class AgeParts
{
    public static IReadOnlyList<AgeRange> Of(Protocol protocol)
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
