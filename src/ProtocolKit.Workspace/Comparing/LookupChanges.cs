using ProtocolKit.Model;
using static ProtocolKit.Workspace.Comparing.Matching;

namespace ProtocolKit.Workspace.Comparing;

/// <summary>Tables of percentiles or scaled scores, result by result.</summary>
internal static class LookupChanges
{
    public static IEnumerable<string> Of(LookupTable old, LookupTable @new)
    {
        if (old.Of != @new.Of)
        {
            yield return $"looks up {@new.OfTitle} instead of {old.OfTitle}.";
        }

        if (!old.Ages.SequenceEqual(@new.Ages))
        {
            yield return $"its ages are {Ages(@new)} instead of {Ages(old)}.";
        }

        foreach (var (before, after) in Pairs(old.Rows, @new.Rows, Raw))
        {
            if (before is null || after is null)
            {
                yield return before is null
                    ? $"{Raw(after!)} has a row."
                    : $"{Raw(before)} has no row of its own any more.";
                continue;
            }

            foreach (var change in Results(old, before, @new, after))
            {
                yield return change;
            }
        }
    }

    private static IEnumerable<string> Results(
        LookupTable oldTable,
        LookupRow old,
        LookupTable newTable,
        LookupRow @new
    )
    {
        for (var i = 0; i < newTable.Ages.Count; i++)
        {
            var at = oldTable.Ages.ToList().IndexOf(newTable.Ages[i]);
            if (at >= 0 && old.Results[at] != @new.Results[i])
            {
                yield return $"at {newTable.Ages[i]}, {Raw(@new)} is {Result(@new.Results[i])} instead of {Result(old.Results[at])}.";
            }
        }
    }

    private static string Raw(LookupRow row) =>
        row.From == row.To ? row.From.ToString() : $"{row.From} to {row.To}";

    private static string Result(Rational? result) => result?.ToString() ?? "none";

    private static string Ages(LookupTable table) => List(table.Ages.Select(a => a.ToString()));
}
