using System.Globalization;
using System.Text.RegularExpressions;

namespace ProtocolKit.Proof.Tests.Mutations;

/// <param name="What">In words: where and what was changed.</param>
internal sealed record Mutation(string What, Example Changed);

/// <summary>Every single slip of the pen in the example's cut-offs and rules that these few kinds of slip can make.</summary>
internal static partial class SingleEdits
{
    private static readonly string[] Bands = ["look-further", "look-again", "as-expected"];
    private static readonly string[] Totals =
    [
        "jaw-total",
        "lips-total",
        "tongue-total",
        "order-total",
        "touch-total",
    ];

    public static IEnumerable<Mutation> OfCutOffs(Example example)
    {
        var lines = example.CutOffs.Split('\n');
        var table = "";
        for (var i = 0; i < lines.Length; i++)
        {
            table = lines[i].StartsWith("cut-offs", StringComparison.Ordinal) ? lines[i] : table;
            if (Row().Match(lines[i]) is { Success: true } row)
            {
                foreach (var cells in Cells([.. Gap().Split(row.Groups["cells"].Value.Trim())]))
                {
                    var changed = (string[])lines.Clone();
                    changed[i] = $"  {row.Groups["ages"].Value}  {string.Join("  ", cells)}";
                    yield return new Mutation(
                        $"{table}: “{Gap().Replace(lines[i].Trim(), " | ")}” becomes “{string.Join(" | ", cells)}”",
                        example with
                        {
                            CutOffs = string.Join('\n', changed),
                        }
                    );
                }
            }
        }
    }

    public static IEnumerable<Mutation> OfRules(Example example)
    {
        var lines = example.Screen.Split('\n');
        var from = Array.FindIndex(lines, l => l.StartsWith("score jaw-total", StringComparison.Ordinal));
        var to = Array.FindIndex(lines, l => l.StartsWith("claim ", StringComparison.Ordinal));
        var actions = Array.IndexOf(lines, "actions");
        for (var i = from; i < to; i++)
        {
            var edits = i > actions ? OfAction(lines[i]) : OfScore(lines[i]);
            foreach (var edit in edits.Where(e => e != lines[i]).Distinct(StringComparer.Ordinal))
            {
                var changed = lines.ToList();
                changed[i] = edit;
                if (edit.Length == 0)
                {
                    changed.RemoveAt(i);
                }

                yield return new Mutation(
                    $"“{lines[i].Trim()}” {(edit.Length == 0 ? "is left out" : $"becomes “{edit.Trim()}”")}",
                    example with
                    {
                        Screen = string.Join('\n', changed),
                    }
                );
            }
        }
    }

    /// <summary>A limit between two bands moves by a step; a gap or an overlap opens; a band is lost; the ends change places.</summary>
    private static IEnumerable<string[]> Cells(string[] cells)
    {
        for (var i = 0; i < cells.Length; i++)
        {
            if (cells[i] == "none")
            {
                continue;
            }

            yield return With(cells, (i, "none"));
            foreach (var step in new[] { -1, 1 })
            {
                yield return With(cells, (i, Moved(cells[i], 0, step)));
                if (i + 1 < cells.Length && cells[i + 1] != "none")
                {
                    // Bands may run up or down: the ends that meet move together.
                    var up = Number(cells[i], 0) < Number(cells[i + 1], 0);
                    yield return With(
                        cells,
                        (i, Moved(cells[i], up ? 1 : 0, step)),
                        (i + 1, Moved(cells[i + 1], up ? 0 : 1, step))
                    );
                }
            }
        }

        yield return With(cells, (0, cells[^1]), (cells.Length - 1, cells[0]));
    }

    private static string[] With(string[] cells, params (int At, string Cell)[] changes)
    {
        var changed = (string[])cells.Clone();
        foreach (var (at, cell) in changes)
        {
            changed[at] = cell;
        }

        return changed;
    }

    private static decimal Number(string cell, int end) =>
        decimal.Parse(
            cell.Split(" to ")[^(end == 0 ? cell.Split(" to ").Length : 1)],
            CultureInfo.InvariantCulture
        );

    /// <summary>One end of a cell by a step of its last digit.</summary>
    private static string Moved(string cell, int end, int steps)
    {
        var digits = cell.Split(" to ")
            .Max(p => p.Contains('.', StringComparison.Ordinal) ? p.Split('.')[1].Length : 0);
        var step = steps * (decimal)Math.Pow(10, -digits);
        var (low, high) = (Number(cell, 0), Number(cell, 1));
        (low, high) = end == 0 ? (low + step, high) : (low, high + step);
        return low == high
            ? low.ToString(CultureInfo.InvariantCulture)
            : string.Create(CultureInfo.InvariantCulture, $"{low} to {high}");
    }

    private static IEnumerable<string> OfAction(string line)
    {
        if (!line.TrimStart().StartsWith("when", StringComparison.Ordinal))
        {
            yield break;
        }

        yield return "";
        foreach (var band in Bands)
        {
            yield return Regex.Replace(line, string.Join('|', Bands), band);
        }

        foreach (var total in Totals)
        {
            yield return Regex.Replace(line, string.Join('|', Totals), total);
        }

        yield return line.Replace("any band", "2 or more bands", StringComparison.Ordinal);
        yield return line.Replace("is undecided", "is blocked", StringComparison.Ordinal);
        yield return line.Replace("is look-further", "is look-further or better", StringComparison.Ordinal);
        yield return line.Replace(
            "no other action applies",
            "any band is as-expected",
            StringComparison.Ordinal
        );
        yield return line.Replace(" or worse", "", StringComparison.Ordinal);
        foreach (var change in new[] { -1, 1, 2 })
        {
            yield return Count()
                .Replace(line, m => (int.Parse(m.Value, CultureInfo.InvariantCulture) + change) + "");
        }
    }

    private static IEnumerable<string> OfScore(string line)
    {
        if (line.TrimStart().StartsWith("= if", StringComparison.Ordinal))
        {
            yield return Regex.Replace(line, @"then (\d) otherwise (\d)$", "then $2 otherwise $1");
            yield return Regex.Replace(line, @"then \d otherwise (\d)$", "then $1 otherwise $1");
            yield return Regex.Replace(line, @"= if .*? or (?=\S+ (is|<|>))", "= if ");
            yield return line.Replace(" or ", " and ", StringComparison.Ordinal);
            yield return line.Replace("is seen", "is not seen", StringComparison.Ordinal);
            yield return line.Replace("is opening", "is high", StringComparison.Ordinal);
        }

        if (line.Contains("lowest of", StringComparison.Ordinal))
        {
            yield return line.Replace("lowest of", "highest of", StringComparison.Ordinal);
            foreach (var sign in new[] { "face", "palate", "uvula", "tongue", "swallow" })
            {
                yield return line.Replace($"clear-{sign}, ", "", StringComparison.Ordinal);
            }
        }

        yield return line.Replace("every task in jaw", "every task in lips", StringComparison.Ordinal);
        yield return line.Replace("every task in lips", "every task in tongue", StringComparison.Ordinal);
    }

    [GeneratedRegex(@"^  (?<ages>\d+;\d+ to \d+;\d+)\s{2,}(?<cells>.+)$")]
    private static partial Regex Row();

    [GeneratedRegex(@"\s{2,}")]
    private static partial Regex Gap();

    [GeneratedRegex(@"\b[23]\b(?= or more)")]
    private static partial Regex Count();
}
