using ProtocolKit.Model;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>Start points, a stop, skips, a gate of the case history, a short form, help with a cost; invented for these tests.</summary>
internal static class Routed
{
    private const string Text = """
        language 1
        protocol routed
          title "Routed"
          edition 1
          ages 4;0 to 8;11
          short form 5 min
        scale three, higher is better
          2 "Full."
          1 "Half."
          0 "None."
        band low "Low"
        band high "High"
        material swab "swab"
        caution gloves "Clean hands."
          for contact mouth
        observation drift "drifts"
        section lips "Lips"
          order of difficulty "invented"
          start at seal from 6;0
          start at smile from 8;0
          go back until 2 in a row full
          stop after 2 tasks in a row rated 0
          task kiss
            rate three
          task press
            contact mouth
            rate three
          task seal short form, each side right, left
            rate three
          task puff
            rate three
          task smile
            trials up to 2, second when rate below 2, keep highest rate
            rate three
            tick drift
        section tongue "Tongue"
          stop after 2 tasks in a row rated 0
          task tip
            skip when kiss = 0, left out
            rate three
          task edge
            skip when smile = 2, counts full
            rate three
            help said again, started together (costs 1)
          task curl
            contact mouth
            rate three
            count licks 0 to 9, lower is better
        score lips-total "Lips"
          add up rate of every task in lips
        score tongue-total "Tongue"
          add up rate of every task in tongue
        measure licks = curl.licks
        measure half-licks = curl.licks / 3
        actions
          more "More" when lips-total <= 3
          none "None" when no other action applies
        case-history
          ask sore "Is the mouth sore?", yes-no
            yes closes mouth contact unless agreed
          ask agreed "Does the dentist agree?", yes-no
        """;

    private static readonly Lazy<Protocol> Compiled = new(() => PageFile.Of(Text));

    public static Protocol Protocol => Compiled.Value;
}
