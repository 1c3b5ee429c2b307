using ProtocolKit.Model;

namespace ProtocolKit.Proof.Tests;

/// <summary>Two sections, the second skipped after the first task of the first, and a total scaled up over both. Invented; for no child.</summary>
internal static class SkippedProtocol
{
    public static Protocol Compiled { get; } =
        Proving.Compiled(
            """
            language 1
            protocol skipped
              title "Skipped"
              edition 1.0
              ages 4;0 to 4;11
            scale movement, higher is better
              2 "Full."
              1 "Partly."
              0 "Not."
            section first "First"
              stop after 2 tasks in a row rated 0
              task one
                rate movement
              task two
                rate movement
              task three
                rate movement
            section second "Second"
              skip when one = 0, counts lowest
              task four
                rate movement
              task five
                rate movement
            score first-total "First"
              add up rate of every task in first
              untried scaled up, at most 1
            score second-total "Second"
              add up rate of every task in second
              untried scaled up, at most 1
            score total "Total"
              add up (first-total, second-total)
              untried scaled up, at most 1
            score plain "Plain"
              add up rate of every task in second

            """
        );
}
