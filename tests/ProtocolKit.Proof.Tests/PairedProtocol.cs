using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Proof.Tests;

/// <summary>Sums and counts of five tasks in a section that may stop, small enough for every pair of sheets. Invented; for no child.</summary>
internal static class PairedProtocol
{
    public static Protocol Compiled { get; } = Proving.Compiled(Text());

    private static string Text()
    {
        var tasks = Enumerable.Range(0, 5).Select(t => $"move-{t}").ToList();
        var signs = string.Join(" + ", tasks.Select(t => $"(if {t}.overflow is seen then 1 otherwise 0)"));
        var text = new StringBuilder(
            "language 1\nprotocol paired\n  title \"Paired\"\n  edition 1.0\n  ages 4;0 to 4;11\n"
                + "scale movement, higher is better\n  2 \"Full.\"\n  1 \"Partly.\"\n  0 \"Not.\"\n"
                + "observation overflow \"another part joins in\"\n"
                + "section part \"Part\"\n  stop after 2 tasks in a row rated 0\n"
        );
        foreach (var task in tasks)
        {
            text.Append($"  task {task}\n    rate movement\n    tick overflow\n");
        }

        text.Append("score total \"Total\"\n  add up rate of every task in part\n");
        text.Append("score best \"Best\"\n  = most(move-0.rate, move-4.rate)\n");
        text.Append("score late \"Late\"\n  = 4 - move-4.rate - move-3.rate + move-0.rate + move-1.rate\n");
        text.Append("score less \"Less\"\n  = 4 - move-0.rate - move-1.rate\n");
        text.Append($"score signs \"Signs\"\n  = {signs}\n");
        Table("total", "4;0 to 4;11, also with tasks left out", "0 to 3", "4 to 6", "7 to 10");
        Table("best", "4;0 to 4;11, also with tasks left out", "0", "1", "2");
        Table("late", "4;0 to 4;11, also with tasks left out", "0 to 3", "4 to 5", "6 to 8");
        Table("less", "4;0 to 4;11, also with tasks left out", "0 to 1", "2", "3 to 4");
        Table("signs", "4;0 to 4;11", "3 to 5", "2", "0 to 1");
        return text.ToString();

        void Table(string name, string ages, params string[] cells) =>
            text.Append(
                $"cut-offs {name}\n  ages  look-further  look-again  as-expected\n"
                    + $"  {ages}  {string.Join("  ", cells)}\n  basis provisional \"invented\"\n"
            );
    }
}
