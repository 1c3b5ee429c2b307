using System.Globalization;
using System.Text;
using ProtocolKit.Model;

namespace ProtocolKit.Proof.Tests.Sampling;

/// <summary>
/// Protocols of a few tasks, each from its seed: two sections of rated tasks, some on both sides, some with a second trial; stop
/// rules; a counted and timed task; totals that bound, block or scale up what is untried; a rate. Invented; for no child.
/// </summary>
internal static class SmallProtocols
{
    public static string Write(ulong seed)
    {
        var draw = new Xoshiro256(seed);
        var text = new StringBuilder("protocol small\n  title \"Small\"\n  edition 1\n  ages 4;0 to 5;11\n");
        text.Append("scale three, higher is better\n  2 \"full\"\n  1 \"part\"\n  0 \"none\"\n");
        text.Append("scale gaps, higher is better\n  5 \"clear\"\n  2 \"rough\"\n  0 \"none\"\n");
        for (var section = 0; section < 2; section++)
        {
            Line(text, $"section part-{section} \"Part\"");
            var tasks = draw.Between(2, 3);
            for (var task = 0; task < tasks; task++)
            {
                var sides = draw.Below(3UL) == 0 ? " each side left, right" : "";
                Line(text, $"  task item-{section}-{task}{sides}");
                if (draw.Below(2UL) == 0)
                {
                    Line(text, "    trials up to 2, second when rate below 2, keep highest rate");
                }

                Line(text, $"    rate {(draw.Below(3UL) == 0 ? "gaps" : "three")}");
            }

            if (draw.Below(2UL) == 0)
            {
                Line(text, "  stop after 2 tasks in a row rated 0");
            }
        }

        Line(text, "section counted \"Counted\"");
        Line(text, "  task taps");
        Line(text, $"    count taps 0 to {draw.Between(3, 12)}, higher is better");
        Line(text, "    time  run in s, step 0.5, 1 to 4");
        Line(text, "measure pace in taps/s, step 0.1");
        Line(text, "  = taps.taps / taps.run");
        for (var section = 0; section < 2; section++)
        {
            Line(text, $"score total-{section} \"Total\"");
            Line(text, $"  add up rate of every task in part-{section}");
            Line(text, draw.OneOf(["", "  untried blocks", "  untried scaled up, at most 1"]));
        }

        Line(text, "score both \"Both\"");
        Line(text, "  add up (total-0, total-1)");
        return text.ToString();
    }

    private static void Line(StringBuilder text, FormattableString line) =>
        text.Append(line.ToString(CultureInfo.InvariantCulture)).Append('\n');

    private static void Line(StringBuilder text, string line) =>
        text.Append(line).Append(line.Length > 0 ? "\n" : "");
}
