namespace ProtocolKit.Cli.Tests;

/// <summary><c>compare</c> on what decides which tasks are given, on help with a cost, put-together trials and tables.</summary>
[Collection(OneFolderAtATime.Name)]
public sealed class CompareRoutingTests
{
    private const string Old = """
        protocol tiny
          title   "Tiny"
          edition 1.0
          ages    4;0 to 5;11
        caution touch "Ask before every touch."
          for contact mouth
        scale three, higher is better
          2 "Full."
          1 "Part."
          0 "None."
        section lips "Lips"
          order of difficulty "invented"
          start at smile from 5;0
          go back until 2 in a row full
          stop after 2 tasks in a row rated 0
          task kiss
            rate three
          task smile
            rate three
            help said again, shown in the mirror (costs 1)
          task seal
            contact mouth
            rate three
        section steps "Steps"
          task step
            rate three
          task step-fast
            rate three
            skip when step = 0, counts lowest
          task hops
            trials 4, keep mean of rate, step 0.5
            rate three
        score lips-total "Lips"
          add up rate of every task in lips
        score steps-total "Steps"
          add up rate of every task in steps
        table lips-scaled "Lips, scaled" of lips-total
          raw     4;0 to 4;11  5;0 to 5;11
          0 to 3  1            1
          4 to 6  3            2
          basis provisional "invented"
        event gag "The child gags.", stops mouth contact
        case-history
          ask sore "Is the mouth sore?", yes-no
            yes closes mouth contact unless agreed
          ask agreed "Has a dentist agreed?", yes-no

        """;

    [Theory]
    [InlineData(
        "smile from 5;0",
        "seal from 5;0",
        "Administration",
        "Lips: starts at seal from 5;0 instead of at smile from 5;0."
    )]
    [InlineData(
        "until 2 in a row",
        "until 1 in a row",
        "Administration",
        "Lips: goes back until 1 in a row are full instead of until 2 in a row are full."
    )]
    [InlineData(
        "after 2 tasks",
        "after 3 tasks",
        "Administration",
        "Lips: stops after 3 tasks in a row rated 0 instead of after 2 tasks in a row rated 0."
    )]
    [InlineData(
        "  stop after 2 tasks in a row rated 0\n",
        "",
        "Administration",
        "Lips: stops nowhere instead of after 2 tasks in a row rated 0."
    )]
    [InlineData(
        "counts lowest",
        "left out",
        "Administration",
        "Step fast: is now skipped when step = 0, and left out then."
    )]
    [InlineData(
        "    skip when step = 0, counts lowest\n",
        "",
        "Administration",
        "Step fast: is no longer skipped when step = 0, and counted lowest then."
    )]
    [InlineData(
        "yes closes mouth contact",
        "no closes mouth contact",
        "Administration",
        "Case history: a no to sore closes mouth contact (seal) unless agreed."
    )]
    [InlineData(
        " unless agreed",
        "",
        "Administration",
        "Case history: no longer, a yes to sore closes mouth contact (seal) unless agreed."
    )]
    [InlineData(
        "stops mouth contact",
        "stops the sitting",
        "Administration",
        "The child gags. Stops all remaining tasks instead of the remaining tasks that touch the mouth."
    )]
    [InlineData(
        "costs 1",
        "costs 2",
        "Administration",
        "Smile: the help is said again and shown in the mirror (costs 2) instead of said again and shown in the mirror (costs 1)."
    )]
    [InlineData(
        "keep mean of rate, step 0.5",
        "keep mean of rate of those given, step 0.5",
        "Administration",
        "Hops: has 4 trials, their mean of those given in steps of 0.5 counts instead of 4 trials, their mean in steps of 0.5 counts."
    )]
    [InlineData(
        "4 to 6  3            2",
        "4 to 6  3            3",
        "Interpretation",
        "Lips, scaled: at 5;0 to 5;11, 4 to 6 is 3 instead of 2."
    )]
    [InlineData(
        "  0 to 3  1            1\n",
        "  0 to 2  1            1\n  3       2            1\n",
        "Interpretation",
        "Lips, scaled: 0 to 3 has no row of its own any more."
    )]
    public void A_change_is_said_in_words(string old, string edited, string aspect, string sentence)
    {
        using var sandbox = new Sandbox();
        Assert.Contains(old, Old, StringComparison.Ordinal);
        Sandbox.Write("old.protocol", Old);
        Sandbox.Write("new.protocol", Old.Replace(old, edited, StringComparison.Ordinal));
        var (code, output, _) = Sandbox.Run("compare", "old.protocol", "new.protocol");
        Assert.Equal(0, code);
        var group = output.Split("\n\n").Single(g => g.StartsWith(aspect, StringComparison.Ordinal));
        Assert.Contains("  " + sentence + "\n", group + "\n", StringComparison.Ordinal);
    }
}
