using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Proof.Tests;

/// <summary>
/// Three sections of one kind and a fourth that differs in its stop rule alone, with cut-offs for two ages between which a start point
/// lies. Invented; for no child.
/// </summary>
internal static class TwinProtocol
{
    public const int Sections = 4;

    public static Protocol Compiled { get; } = Proving.Compiled(Text());

    private static string Text()
    {
        var text = new StringBuilder(
            "language 1\nprotocol twins\n  title \"Twins\"\n  edition 1.0\n  ages 4;0 to 7;11\n"
                + "scale movement, higher is better\n  2 \"Full.\"\n  1 \"Partly.\"\n  0 \"Not.\"\n"
                + "observation overflow \"another part joins in\"\n"
        );
        for (var section = 0; section < Sections; section++)
        {
            var stop = section < 3 ? 2 : 3;
            Line($"section part-{section} \"Part\"");
            Line($"  stop after {stop} tasks in a row rated 0");
            for (var task = 0; task < 4; task++)
            {
                Line($"  task move-{section}-{task}\n    rate movement\n    tick overflow");
            }
        }

        Line($"section late \"Late\"\n  order of difficulty \"invented\"");
        Line(
            $"  start at late-2 from 6;0\n  go back until 1 in a row full\n  stop after 2 tasks in a row rated 0"
        );
        for (var task = 0; task < 4; task++)
        {
            Line($"  task late-{task}\n    rate movement\n    tick overflow");
        }

        foreach (var name in new[] { "part-0", "part-1", "part-2", "part-3", "late" })
        {
            Line(
                $"score {name}-total \"Total\"\n  add up rate of every task in {name}\n  untried scaled up, at most 1"
            );
        }

        Line($"score signs \"Signs\"");
        Line(
            $"  = {string.Join(" + ", Enumerable.Range(0, 4).Select(t => $"(if late-{t}.overflow is seen then 1 otherwise 0)"))}"
        );
        foreach (var name in new[] { "part-0", "part-1", "part-2", "part-3", "late" })
        {
            Line($"cut-offs {name}-total\n  ages  look-further  look-again  as-expected");
            Line($"  4;0 to 5;11, also with tasks left out  0 to 2  3 to 5  6 to 8");
            Line(
                $"  6;0 to 7;11, also with tasks left out  0 to 3  4 to 6  7 to 8\n  basis provisional \"invented\""
            );
        }

        Line($"cut-offs signs\n  ages  look-further  look-again  as-expected");
        Line(
            $"  4;0 to 5;11  3 to 4  2  0 to 1\n  6;0 to 7;11  2 to 4  1  0\n  basis provisional \"invented\""
        );
        return text.ToString();

        void Line(FormattableString line) =>
            text.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');
    }
}
