using ProtocolKit.Model;

namespace ProtocolKit.Sitting.Tests.Support;

/// <summary>A few tasks of every kind, invented for these tests.</summary>
internal static class Small
{
    public const string Text = """
        language 1

        protocol small-screen
          title "Small Screen"
          edition 1.0
          ages 4;0 to 6;11
          purpose "Invented, for tests of the sitting page."
          examiner "Nobody."

        material gloves "non-latex gloves"
        caution touch "Clean hands, fresh gloves, and the child's agreement before every touch."
          for contact face, mouth

        event gag "The child gags.", stops mouth contact
        event pain "The child is in pain.", stops the sitting

        scale movement, higher is better
          2 "Full, smooth and centred."
          1 "Part of the way."
          0 "Tries, with no movement the asked way."

        observation overflow "neck, jaw or hands join in", qualitative

        band look-further "Look further"
        band as-expected "As expected"

        section all "All"
          task smile "Smile"
            say "Make a big smile."
            trials up to 2, second when rate below 2, keep highest rate
            rate movement
            help said again, shown in the mirror
            tick overflow
          task blow "Blow"
            say "Blow until my hand drops."
            trials 2, keep highest run
            time run in s, step 0.1, 0.5 to 15, higher is better
          task pa "Pa, again and again"
            say "Say pa-pa-pa fast."
            count syllables 0 to 60, spans onsets, higher is better
          task swaps "Corner to corner"
            say "Swing your tongue side to side."
            count swaps 0 to 25, spans intervals, higher is better
          task corner "Tongue to the corner" each side right, left
            say "Put your tongue over here."
            rate movement
          task swab "Touch on the tongue"
            contact mouth
            needs gloves
            say "Tell me when you feel it."
            count felt 0 to 4, higher is better

        measure long-blow "Longest blow" in s, step 0.1
          = blow.run
        measure pa-count "Syllables" = pa.syllables
        measure swap-count "Swaps" = swaps.swaps
        score movement-total "Movements"
          add up rate of every task in all
        score felt-total "Felt" = swab.felt

        cut-offs movement-total
          ages         look-further  as-expected
          4;0 to 6;11  0 to 3        4 to 6
          basis provisional "invented"

        actions
          look "Look further" within 2 weeks
            when any band is look-further
          complete "Finish the untried parts" within 4 weeks, finish
            when any band is undecided
          no-action "No action"
            when no other action applies
        """;

    private static readonly Lazy<Protocol> Compiled = new(() => PageFile.Of(Text));

    public static Protocol Protocol => Compiled.Value;
}
